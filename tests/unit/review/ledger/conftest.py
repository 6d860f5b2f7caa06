"""A day of a patient from a request, worked out."""

from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.review.ledger.ledger import Ledger, ledger_of
from tests.conftest import NOW

CaseOf = Callable[..., Case]
LedgerOf = Callable[..., Ledger]
ADULT = {"age_years": 60, "weight_kg": 70, "sex": "male"}


@pytest.fixture
def case_of(catalogue: Catalogue, vocabulary: Vocabulary) -> CaseOf:
    """A case with these orders and co-infusions, of an adult of 70 kg unless told otherwise."""

    def read(
        *orders: dict[str, Any],
        infusions: tuple[str, ...] = (),
        patient: dict[str, Any] | None = None,
        setting: str | None = "adult ward",
    ) -> Case:
        request = {
            "setting": setting,
            "patient": ADULT if patient is None else patient,
            "orders": [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)],
            "co_infusions": [{"name": name} for name in infusions],
        }
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return read


@pytest.fixture
def ledger_for(case_of: CaseOf, vehicles: Vehicles) -> LedgerOf:
    """The ledger of such a case."""
    return lambda *orders, **rest: ledger_of(case_of(*orders, **rest), vehicles)
