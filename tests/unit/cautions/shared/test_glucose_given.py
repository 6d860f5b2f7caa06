"""How much glucose the orders give."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.shared.glucose_given import (
    brings_little_glucose,
    glucose_g_day,
    glucose_orders,
    mg_kg_min,
    runs_on,
)
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def dextrose(catalogue: Catalogue, fluid_id: str, **fields: object) -> Order:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return Order("o1", fluid.name, fluid, mix=fluid.composition, **fields)  # type: ignore[arg-type]


def test_a_newborns_ten_percent_counts_by_the_label_as_wards_count(catalogue: Catalogue) -> None:
    order = dextrose(catalogue, "dextrose-10", volume_ml=250.0, rate_ml_h=9.0)
    case = Case(Snapshot(NOW), (order,))
    assert mg_kg_min(case, 3.0, as_labelled=True) == pytest.approx(5.0)
    assert mg_kg_min(case, 3.0) == pytest.approx(4.55, abs=0.01)


def test_a_rescue_dose_is_no_rate(catalogue: Catalogue) -> None:
    dose = dextrose(catalogue, "dextrose-50", volume_ml=50.0, rate_ml_h=600.0, duration_h=0.083)
    assert not runs_on(dose)
    assert glucose_orders(Case(Snapshot(NOW), (dose,))) == ()


def test_a_drugs_carrier_brings_little_and_a_litre_does_not(catalogue: Catalogue) -> None:
    carrier = dextrose(catalogue, "dextrose-5", volume_ml=100.0, duration_h=1.0)
    litre = dextrose(catalogue, "dextrose-5", volume_ml=1000.0, rate_ml_h=80.0)
    assert brings_little_glucose(carrier, Snapshot(NOW))
    assert not brings_little_glucose(litre, Snapshot(NOW))
    assert not brings_little_glucose(dextrose(catalogue, "dextrose-5"), Snapshot(NOW))
    assert glucose_g_day(litre) == pytest.approx(87.3, abs=0.3)


def test_what_is_little_for_an_adult_may_be_much_for_a_child(catalogue: Catalogue) -> None:
    carrier = dextrose(catalogue, "dextrose-5", volume_ml=100.0, duration_h=1.0)
    assert not brings_little_glucose(carrier, Snapshot(NOW, weight_kg=5.0))
