"""A bag over a whole day, by the ways that kidneys may take, and by hand."""

from dataclasses import replace
from types import MappingProxyType

import pytest

from app.catalogue.catalogue import Catalogue
from app.physiology.course.course import course_of
from app.web.pictures.curves import Curve
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.person import Person
from app.web.prediction.sodium.ways import (
    Look,
    Trial,
    Way,
    brisk_ml_h,
    is_urine_open,
    keeping_matters,
    looks_of,
)

WOMAN = Person(weight_kg=60, age_years=70, sex="female")


def person(sodium: float, *conditions: str, urine_ml_h: float | None = None) -> Person:
    return replace(
        WOMAN,
        results=MappingProxyType({"sodium": sodium}),
        conditions=frozenset(conditions),
        urine_ml_h=urine_ml_h,
    )


def trial(
    catalogue: Catalogue, fluid_id: str, whom: Person, horizon_h: float = 24, **values: float
) -> Trial:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    bag, subject = Bag("A", fluid, 0), whom.subject()
    asked = Asked(
        (bag,), volume_ml=2000, minutes=1440, horizon_h=horizon_h, values=MappingProxyType(values)
    )
    horizon_min = horizon_h * 60
    course = course_of(
        subject, (bag.load(2000, 1440),), horizon_min=horizon_min, step_min=20, samples=20
    )
    return Trial(asked, whom, subject, {"A": course})


def look(found: Trial) -> Look:
    (one,) = looks_of(found)
    return one


def test_a_day_is_looked_at_however_far_the_pictures_look(catalogue: Catalogue) -> None:
    short = look(trial(catalogue, "sodium-chloride-0.9", person(140), horizon_h=4))
    assert short.drawn.hours[-1] == 24


def test_water_that_is_kept_lowers_a_low_sodium_further(catalogue: Catalogue) -> None:
    found = look(trial(catalogue, "glucose-5", person(118)))
    passed, kept = (way.curve.mid[-1] for way in found.ways)
    assert kept < passed - 4
    assert [way.word for way in found.ways] == ["water passed", "water kept"]


# By hand: 2 L of water into the body's.
def test_the_formula_counts_the_whole_bag(catalogue: Catalogue) -> None:
    one = trial(catalogue, "glucose-5", person(118))
    water = one.subject.water_l
    assert look(one).by_hand_mmol_l == pytest.approx(-118 * 2 / (water + 2))


def test_of_a_usual_sodium_in_somebody_well_there_is_one_way(catalogue: Catalogue) -> None:
    assert look(trial(catalogue, "glucose-5", person(140))).ways == ()


@pytest.mark.parametrize("condition", ["postoperative", "siadh", "pneumonia", "nausea"])
def test_what_keeps_water_makes_two_ways(catalogue: Catalogue, condition: str) -> None:
    assert keeping_matters(trial(catalogue, "glucose-5", person(140, condition)))
    assert not keeping_matters(trial(catalogue, "glucose-5", person(140)))


def test_a_child_may_keep_water(catalogue: Catalogue) -> None:
    child = replace(person(140), age_years=9, weight_kg=28)
    assert keeping_matters(trial(catalogue, "glucose-5", child))


def test_urine_of_which_nothing_is_known_has_two_ends(catalogue: Catalogue) -> None:
    whom = person(120, urine_ml_h=130)
    open_one = trial(catalogue, "sodium-chloride-0.9", whom)
    assert is_urine_open(open_one)
    salty, dilute = (way.curve.mid[-1] for way in look(open_one).ways)
    assert dilute > salty + 4
    told = trial(catalogue, "sodium-chloride-0.9", whom, urine_sodium=20)
    assert not is_urine_open(told)
    assert look(told).ways == ()


def test_scant_urine_or_a_usual_sodium_leaves_no_two_ends(catalogue: Catalogue) -> None:
    assert not is_urine_open(trial(catalogue, "glucose-5", person(120, urine_ml_h=10)))
    assert not is_urine_open(trial(catalogue, "glucose-5", person(140, urine_ml_h=130)))


def test_kidneys_that_pass_water_raise_a_low_sodium_whatever_the_bag(catalogue: Catalogue) -> None:
    found = look(trial(catalogue, "sodium-chloride-0.9", person(112)))
    passed, kept = (way.curve.mid[-1] for way in found.ways)
    assert passed > kept + 6


def test_brisk_urine_of_a_child_is_by_weight() -> None:
    child = replace(WOMAN, age_years=6, weight_kg=20)
    assert (brisk_ml_h(WOMAN), brisk_ml_h(child)) == (100, 40)


@pytest.mark.parametrize(
    ("word", "name"),
    [("water kept", "kept"), ("urine dilute", "dilute"), ("water passed", "passed")],
)
def test_a_way_has_a_name_of_one_word(word: str, name: str) -> None:
    flat = (140.0, 140.0)
    assert Way(word, "", Curve("", (0.0, 1.0), flat, flat, flat)).name == name


def test_failing_kidneys_have_no_ways_of_their_own(catalogue: Catalogue) -> None:
    found = look(trial(catalogue, "sodium-chloride-0.9", person(112, "severe_kidney_failure")))
    assert found.ways == ()
