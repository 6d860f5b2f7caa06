"""One order for an adult of 70 kg, read."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case


@pytest.fixture(scope="session")
def read(
    catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> Callable[[Mapping[str, Any]], Case]:
    """Reads one order for an adult of 70 kg."""

    def one(fields: Mapping[str, Any]) -> Case:
        request = {"patient": {"weight_kg": 70}, "orders": [fields]}
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now)

    return one
