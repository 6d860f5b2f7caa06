"""When infusions run in the 24 hours ahead, and how long two are together."""

from typing import Any

import pytest

from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.shared.substances import infusions_of
from app.review.pairs.hours import hours_together, spans_of
from tests.unit.review.pairs.conftest import CaseOf

SALINE: dict[str, Any] = {"fluid": "0.9% sodium chloride"}


def hours(spans: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    return [(round(a / 60, 2), round(b / 60, 2)) for a, b in spans]


@pytest.mark.parametrize(
    ("order", "spans"),
    [
        ({"rate_ml_h": 80, "volume_ml": 1000, "purpose": "maintenance"}, [(0, 24)]),
        ({"rate_ml_h": 250, "volume_ml": 500, "purpose": "resuscitation"}, [(0, 2)]),
        ({"rate_ml_h": 100, "duration_h": 6, "starts_at": "2031-03-04T10:00:00Z"}, [(3, 9)]),
        ({"rate_ml_h": 100, "duration_h": 6, "starts_at": "2031-03-05T10:00:00Z"}, []),
        ({}, [(0, 24)]),
    ],
)
def test_an_order_runs_from_now_or_its_start_to_its_end(
    case_of: CaseOf, vehicles: Vehicles, order: dict[str, Any], spans: list[tuple[float, float]]
) -> None:
    case = case_of({**SALINE, **order})
    assert hours(spans_of(case.orders[0], case, vehicles)) == spans


@pytest.mark.parametrize(
    ("name", "spans"),
    [
        ("norepinephrine 0.1 mcg/kg/min", [(0, 24)]),
        ("midazolam infusion 2 mg/h", [(0, 24)]),
        ("meropenem 1 g over 30 min tds", [(0, 0.5), (8, 8.5), (16, 16.5)]),
        ("vancomycin 1 g over 2 h bd", [(0, 2), (12, 14)]),
        ("furosemide 40 mg stat over 10 min", [(0, 0.17)]),
    ],
)
def test_a_drug_runs_all_day_or_as_often_as_written(
    case_of: CaseOf, vehicles: Vehicles, name: str, spans: list[tuple[float, float]]
) -> None:
    case = case_of(beside=({"name": name, "kind": "drug"},))
    assert hours(spans_of(case.co_infusions[0], case, vehicles)) == spans


def test_nutrition_runs_all_day_and_blood_for_as_long_as_written(
    case_of: CaseOf, vehicles: Vehicles
) -> None:
    beside = ({"name": "TPN", "kind": "nutrition"}, {"name": "red cells over 3 h", "kind": "blood"})
    case = case_of(beside=beside)
    nutrition, blood = (spans_of(each, case, vehicles) for each in infusions_of(case))
    assert hours(nutrition) == [(0, 24)]
    assert hours(blood) == [(0, 3)]


def test_two_are_together_only_while_both_run() -> None:
    assert hours_together([(0, 1440)], [(0, 30), (480, 510)]) == 1
    assert hours_together([(0, 60)], [(60, 120)]) == 0
    assert hours_together([(0, 120)], [(60, 600)]) == 1
    assert hours_together([], [(0, 60)]) == 0
