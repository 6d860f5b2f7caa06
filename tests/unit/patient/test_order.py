import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.schedule import Schedule


def order(**given: object) -> Order:
    return Order(id="o1", written="0.9% sodium chloride", fluid=None, **given)  # type: ignore[arg-type]


def test_an_open_ended_order_runs_the_whole_day() -> None:
    assert order(rate_ml_h=125.0, volume_ml=1000.0).litres_per_day == pytest.approx(3.0)


def test_an_order_that_ends_gives_no_more_than_its_volume() -> None:
    ends = order(rate_ml_h=125.0, volume_ml=1000.0, stated_duration=True)
    assert ends.litres_per_day == pytest.approx(1.0)


def test_an_order_that_ends_after_a_day_gives_a_day_of_it() -> None:
    slow = order(rate_ml_h=20.0, volume_ml=1000.0, stated_duration=True)
    assert slow.litres_per_day == pytest.approx(0.48)


def test_an_order_without_rate_gives_its_volume_or_nothing_known() -> None:
    assert order(volume_ml=500.0).litres_per_day == pytest.approx(0.5)
    assert order().litres_per_day is None


def test_potassium_each_hour_follows_the_rate() -> None:
    assert order(rate_ml_h=125.0).per_hour(40.0) == pytest.approx(5.0)
    assert order().per_hour(40.0) is None


@pytest.mark.parametrize(
    "given",
    [
        {"rate_ml_h": 2000.0, "volume_ml": 500.0, "is_bolus": True},
        {"rate_ml_h": 100.0, "volume_ml": 1000.0, "purpose": "resuscitation"},
        {"rate_ml_h": 1000.0, "volume_ml": 1000.0, "purpose": "replacement"},
        {"rate_ml_h": 100.0, "volume_ml": 100.0},
        {"rate_ml_h": 30.0, "volume_ml": 250.0, "mix": Composition(sodium_mmol_l=513)},
    ],
)
def test_a_bolus_a_fast_a_small_and_a_strong_bag_are_given_once(given: dict[str, object]) -> None:
    assert order(**given).is_given_once


@pytest.mark.parametrize("volume_ml", [100.0, 1000.0])
def test_a_maintenance_bag_is_renewed(volume_ml: float) -> None:
    assert not order(rate_ml_h=80.0, volume_ml=volume_ml, purpose="maintenance").is_given_once


def test_a_drug_in_the_bag_is_told_from_a_salt_and_from_what_is_not_read() -> None:
    insulin = AdditiveDose("insulin", Composition(), "50 units insulin")
    salt = AdditiveDose("potassium_chloride", Composition(potassium_mmol_l=20), "20 mmol")
    unread = AdditiveDose("KCl", Composition(), "20 KCl", unread="no unit is written")
    assert order(additives=(salt, insulin)).carries_a_drug
    assert not order(additives=(salt, unread)).carries_a_drug


def test_each_dose_of_a_drug_counts_in_its_day() -> None:
    thrice = CoInfusion("x", "drug", volume_ml=100, schedule=Schedule(doses_per_day=3))
    assert thrice.day_ml == 300
    assert CoInfusion("x", "drug", volume_ml=100).day_ml == 100


def test_a_syringe_that_runs_all_day_is_followed_by_the_next() -> None:
    syringe = CoInfusion(
        "x", "drug", volume_ml=50, rate_ml_h=5, contents=frozenset({"vasoactive"})
    )  # fmt: skip
    assert syringe.runs_on and syringe.day_ml == 120


def test_a_drug_with_neither_volume_nor_rate_has_no_volume_a_day() -> None:
    assert CoInfusion("x", "drug").day_ml is None
    assert CoInfusion("x", "drug", rate_ml_h=10).day_ml == 240


def test_a_strength_that_no_bag_has_is_called_as_written(catalogue: Catalogue) -> None:
    glucose = AdditiveDose("glucose", Composition(glucose_g_l=25), "25 g/L", per_litre=True)
    weaker = catalogue.get("dextrose-10")
    assert weaker is not None
    made_up = Order("o1", "dextrose 12.5%", weaker, additives=(glucose,))
    assert made_up.called == "dextrose 12.5%"
    assert Order("o1", "D10", weaker).called == weaker.name
