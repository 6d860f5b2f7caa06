"""No name in the catalogue makes a finding about shared lines too long to read aloud."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.patient.case import Case
from app.review.assess import review
from tests.unit.cautions.conftest import RULESET
from tests.unit.cautions.test_examples import faults_of

BESIDE = ("red cells", "platelets", "fresh frozen plasma", "cryoprecipitate", "ceftriaxone 2 g")
LUMENS = (("p1", "p1"), (None, None))


@pytest.mark.parametrize("beside", BESIDE)
@pytest.mark.parametrize("lumens", LUMENS)
@pytest.mark.parametrize("access", [0, 1, 2])
def test_every_fluid_beside_blood_or_ceftriaxone_reads_in_one_line(
    beside: str,
    lumens: tuple[str | None, str | None],
    access: int,
    catalogue: Catalogue,
    case_of: Callable[[Mapping[str, Any]], Case],
) -> None:
    said = 0
    for fluid in catalogue:
        order = {"id": "o1", "fluid": fluid.name, "volume_ml": 500, "rate_ml_h": 90}
        other = {"name": beside, "kind": "drug" if "cef" in beside else "blood"}
        if lumens[0]:
            order, other = {**order, "lumen": lumens[0]}, {**other, "lumen": lumens[1]}
        ids = [{"id": f"p{n + 1}", "site": "peripheral"} for n in range(access)]
        patient = {"age_years": 50, "access": ids}
        reviewed = review(
            case_of({"patient": patient, "orders": [order], "co_infusions": [other]}), RULESET
        )
        for found in reviewed.all_found:
            if found.rule.id.startswith(("blood", "cef")):
                said += 1
                assert not faults_of(found.rule, found.finding), found.finding.summary
    assert said
