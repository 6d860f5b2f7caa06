"""Magnesium that is given: which, how much, and whether it runs on."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.shared.magnesium_given import magnesium_given
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def test_a_balanced_fluid_is_no_magnesium_given(catalogue: Catalogue) -> None:
    fluid = catalogue.get("multiple-electrolytes-type-1-ph-7.4")
    assert fluid is not None
    order = Order("o1", fluid.name, fluid, mix=fluid.composition, volume_ml=1000.0, rate_ml_h=125.0)
    assert magnesium_given(Case(Snapshot(NOW), (order,))) == ()


@pytest.mark.parametrize(("hours", "runs_on"), [(1.0, False), (20.0, True)])
def test_a_bag_over_many_hours_runs_on_and_a_dose_does_not(hours: float, runs_on: bool) -> None:
    mix = Composition(magnesium_mmol_l=80.0, sulfate_mmol_l=80.0)
    order = Order("o1", "0.9% sodium chloride", None, mix=mix, volume_ml=200.0, duration_h=hours)
    (given,) = magnesium_given(Case(Snapshot(NOW), (order,)))
    assert given.runs_on is runs_on
    assert given.mmol == pytest.approx(16.0)


@pytest.mark.parametrize(
    ("written", "runs_on"),
    [("magnesium sulfate 4 g over 20 min", False), ("magnesium sulfate 1 g/h", True)],
)
def test_a_drug_runs_on_where_its_words_say_so(written: str, runs_on: bool) -> None:
    drug = CoInfusion(written, "drug", key="magnesium_sulfate", duration_min=None)
    (given,) = magnesium_given(Case(Snapshot(NOW), (), (drug,)))
    assert given.runs_on is runs_on
    assert given.mmol is None
