"""A request reviewed with everything we know, in one call."""

from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.assess import Ruleset
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.assess import Review, review
from tests.conftest import NOW

ReviewOf = Callable[..., Review]
TAKEN = "2031-03-04T05:00:00Z"
KCL_20 = [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}]


def result(name: str, value: float, unit: str = "mmol/L", taken_at: str = TAKEN) -> dict[str, Any]:
    """One observation of a request, two hours old."""
    return {"name": name, "value": value, "unit": unit, "taken_at": taken_at}


def maintenance(fluid: str, rate_ml_h: float = 80, **more: object) -> dict[str, Any]:
    """A litre of maintenance at this rate."""
    order = {"fluid": fluid, "rate_ml_h": rate_ml_h, "volume_ml": 1000, "purpose": "maintenance"}
    return {**order, **more}


def rule_ids(review_: Review) -> set[str]:
    """Every rule that found something."""
    return {found.rule.id for found in review_.all_found}


def loud(review_: Review) -> set[str]:
    """Every rule that found something at warning or above."""
    return {f.rule.id for f in review_.all_found if f.finding.level != "info"}


@pytest.fixture(scope="session")
def ruleset() -> Ruleset:
    """Every rule with its limits as shipped."""
    return Ruleset.of(RULES, limits_in_force(RULES))


@pytest.fixture(scope="session")
def review_of(catalogue: Catalogue, vocabulary: Vocabulary, ruleset: Ruleset) -> ReviewOf:
    """Review orders of one patient: patient fields by name, orders, co_infusions, setting."""

    def made(*orders: dict[str, Any], **patient: object) -> Review:
        request = {
            "orders": list(orders),
            "co_infusions": patient.pop("co_infusions", []),
            "setting": patient.pop("setting", None),
            "patient": {"age_years": 60, "weight_kg": 70, **patient},
        }
        case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
        return review(case, ruleset)

    return made
