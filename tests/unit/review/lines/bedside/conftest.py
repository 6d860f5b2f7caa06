"""Cases and everything a plan is made with, in one call."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest

from app.catalogue.pairs.answer import PairBook
from app.intake.read import read_case
from app.patient.case import Case
from app.review.knowledge import Knowledge
from app.review.lines.bedside.problem import Means
from app.storage.demo_files import DEMO, Words, read_bed_file, read_case_of, read_unit_file
from tests.conftest import NOW

CaseOf = Callable[..., Case]
Parts = Mapping[str, Any]
ONE = ({"id": "left hand", "site": "peripheral"},)
TWO = (*ONE, {"id": "right hand", "site": "peripheral"})
CENTRAL = {"id": "neck", "site": "central"}
CALCIUM_FLUID = {
    "id": "o1", "fluid": "compound sodium lactate", "volume_ml": 1000, "rate_ml_h": 80,
    "purpose": "maintenance", "lumen": "left hand",
}  # fmt: skip
RED_CELLS = {"name": "red cells 1 unit over 2 h", "kind": "blood"}
CEFTRIAXONE = {"name": "ceftriaxone 2 g over 30 min once daily", "kind": "drug"}
PRESSOR = {"name": "norepinephrine 4 mg in 250 mL 5% glucose at 20 mL/h", "kind": "drug"}


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


@pytest.fixture(scope="session")
def means(knowledge: Knowledge) -> Means:
    """Everything a plan is made with: no note is signed, nothing is told of stock."""
    book = PairBook(knowledge.pairs)
    return Means(knowledge.catalogue, knowledge.vehicles, knowledge.ruleset, book)


@pytest.fixture(scope="session")
def case_of(knowledge: Knowledge) -> CaseOf:
    """case_of(*orders, co=…, access=…, **patient)."""

    def made(
        *orders: Parts, co: Sequence[Parts] = (), access: Sequence[Parts] = ONE, **patient: object
    ) -> Case:
        request = {
            "patient": {"age_years": 60, "weight_kg": 70, "access": list(access), **patient},
            "orders": [dict(order) for order in orders],
            "co_infusions": [dict(other) for other in co],
        }
        case = read_case(
            request, catalogue=knowledge.catalogue, vocabulary=knowledge.vocabulary, now=NOW
        )
        return replace(case, pairs=knowledge.pairs)

    return made


@pytest.fixture(scope="session")
def demo(knowledge: Knowledge) -> Mapping[str, Case]:
    """Every demo patient's case, by bed."""
    now = read_unit_file().fixed_now
    assert now is not None
    words = Words(knowledge.catalogue, knowledge.vocabulary, now)
    beds = (read_bed_file(path).bed for path in sorted((DEMO / "patients").glob("*.toml")))
    return {bed.bed: replace(read_case_of(bed, words), pairs=knowledge.pairs) for bed in beds}
