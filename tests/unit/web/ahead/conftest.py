"""A case read from words."""

from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from tests.conftest import NOW

CaseOf = Callable[..., Case]


@pytest.fixture
def case_of(catalogue: Catalogue, vocabulary: Vocabulary) -> CaseOf:
    """case_of(order, …, age_years=…): a patient of 50 years with these orders, o1 on."""

    def read(*orders: dict[str, Any], **patient: object) -> Case:
        numbered = [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)]
        request = {"patient": {"age_years": 50, **patient}, "orders": numbered}
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return read
