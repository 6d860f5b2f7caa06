"""What runs in a patient from a request."""

from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.physiology.course.loads import Load
from app.review.running.loads import Running, running_loads
from tests.conftest import NOW

RunningIn = Callable[..., Running]
ADULT = {"age_years": 60, "weight_kg": 70, "sex": "male"}


def brought_ml(loads: tuple[Load, ...], until_min: float = 1440.0) -> float:
    """What loads bring until so many minutes from now, mL."""
    return 1000 * sum(load.litres_between(0, until_min) for load in loads)


@pytest.fixture
def running_in(catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles) -> RunningIn:
    """What runs with these orders and infusions, over 24 h in an adult unless told otherwise."""

    def read(
        *orders: dict[str, Any],
        infusions: tuple[str, ...] = (),
        patient: dict[str, Any] | None = None,
        setting: str | None = "adult ward",
        leave_out: str | None = None,
        hours: float = 24,
    ) -> Running:
        request = {
            "setting": setting,
            "patient": ADULT if patient is None else patient,
            "orders": [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)],
            "co_infusions": [{"name": name} for name in infusions],
        }
        case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
        return running_loads(case, leave_out=leave_out, hours=hours, vehicles=vehicles)

    return read
