"""How much runs, whether it is small, and what sodium says."""

from datetime import UTC, datetime, timedelta

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.shared.fluid_facts import (
    SodiumPoint,
    is_hypotonic,
    is_relowering,
    is_small,
    known_child,
    litres_a_day,
    litres_within,
    risen_too_fast,
    sodium_for_glucose,
    sodium_points,
)
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def sodium(value: float, hours_ago: float) -> Observation:
    return Observation("sodium", value, "mmol/L", NOW - timedelta(hours=hours_ago))


def patient(*points: tuple[float, float], **fields: object) -> Snapshot:
    results = {"sodium": tuple(sodium(*point) for point in points)} if points else {}
    return Snapshot(now=NOW, results=results, **fields)  # type: ignore[arg-type]


def order(**fields: object) -> Order:
    return Order(id="o1", written="", fluid=None, **fields)  # type: ignore[arg-type]


def test_a_bag_on_a_pump_is_renewed_through_the_day() -> None:
    assert litres_a_day(order(volume_ml=1000, rate_ml_h=125)) == 3


def test_a_bag_with_an_end_is_given_once() -> None:
    assert litres_a_day(order(volume_ml=1000, rate_ml_h=125, stated_duration=True)) == 1


def test_a_small_quick_bag_is_given_once() -> None:
    assert litres_a_day(order(volume_ml=100, rate_ml_h=200)) == 0.1


def test_a_small_slow_syringe_is_renewed() -> None:
    assert litres_a_day(order(volume_ml=50, rate_ml_h=9)) == pytest.approx(0.216)


def test_strong_saline_is_given_as_ordered(catalogue: Catalogue) -> None:
    strong = catalogue.get("sodium-chloride-3")
    assert strong
    bag = order(volume_ml=250, rate_ml_h=30, mix=strong.composition)
    assert litres_within(bag, 24) == 0.25


def test_neither_rate_nor_volume_is_not_known() -> None:
    assert litres_within(order(), 24) is None
    with pytest.raises(NotKnown, match="rate_ml_h"):
        litres_a_day(order())


@pytest.mark.parametrize(("rate", "small"), [(20, True), (21, False)])
def test_a_carrier_in_an_adult_is_small_by_its_day(rate: float, small: bool) -> None:
    assert is_small(order(rate_ml_h=rate), patient(age_years=50), 480) is small


@pytest.mark.parametrize(("rate", "small"), [(4, True), (9, False)])
def test_a_newborns_nine_ml_an_hour_is_not_small(rate: float, small: bool) -> None:
    baby = patient(age_years=0.01, weight_kg=10)
    assert is_small(order(rate_ml_h=rate), baby, 500) is small


def test_a_childs_volume_without_a_weight_is_not_called_small() -> None:
    assert not is_small(order(rate_ml_h=4), patient(age_years=3), 500)


@pytest.mark.parametrize(
    ("fluid", "hypotonic"),
    [
        ("dextrose-5", True),
        ("sodium-chloride-0.45", True),
        ("potassium-chloride-40-dextrose-5-sodium-chloride-0.45", True),
        ("lactated-ringers", False),
        ("sodium-chloride-0.9", False),
        ("mannitol-20", False),
    ],
)
def test_which_fluids_bring_free_water(fluid: str, hypotonic: bool, catalogue: Catalogue) -> None:
    entry = catalogue.get(fluid)
    assert entry
    assert is_hypotonic(entry.composition) is hypotonic


def test_the_course_of_sodium_leaves_out_what_is_over_a_day_old() -> None:
    course = sodium_points(patient((121, 1), (112, 20), (110, 30)))
    assert course == (SodiumPoint(1, 121), SodiumPoint(20, 112))


def test_a_fast_rise_from_low_makes_water_a_treatment() -> None:
    assert risen_too_fast(patient((121, 1), (112, 20)))
    assert not risen_too_fast(patient((119, 1), (112, 20)))
    assert not risen_too_fast(patient((145, 1), (135, 20)))


def test_the_orders_own_words_can_say_that_water_is_treatment() -> None:
    situation = Situation(Case(patient()), order(purpose_written="re-lower sodium overcorrection"))
    assert is_relowering(situation)


def test_a_high_glucose_hides_part_of_sodium() -> None:
    glucose = Observation("glucose", 40, "mmol/L", NOW)
    sweet = Snapshot(now=NOW, results={"glucose": (glucose,)})
    assert sodium_for_glucose(sweet, 128) == pytest.approx(137.9, abs=0.1)
    assert sodium_for_glucose(patient(), 128) == 128


@pytest.mark.parametrize("setting", ["ED", "ICU", "theatre", None])
def test_a_light_patient_of_no_age_where_all_ages_lie_may_be_a_child(setting: str | None) -> None:
    with pytest.raises(NotKnown, match="age_years"):
        known_child(patient(weight_kg=20, setting=setting))


def test_a_heavy_patient_of_no_age_in_the_emergency_department_is_no_child() -> None:
    assert not known_child(patient(weight_kg=40, setting="ED"))
    assert not known_child(patient(setting="ED"))


def test_where_the_ward_or_the_age_tells_it_weight_does_not_matter() -> None:
    assert not known_child(patient(weight_kg=35, setting="adult ward"))
    assert not known_child(patient(weight_kg=35, setting="ED", age_years=86))
    assert known_child(patient(weight_kg=45, setting="paediatric"))
