from collections.abc import Collection, Mapping, Sequence

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.loads import Load
from app.web.ahead.chosen import (
    BICARBONATE,
    CHLORIDE,
    FAR,
    GLUCOSE,
    INSULIN,
    LEAST,
    MOST,
    PH,
    PLASMA,
    POTASSIUM,
    SODIUM,
    Ahead,
    Choice,
    chosen,
)

WATER = Composition()


def person(
    results: Mapping[str, float] | None = None, conditions: frozenset[str] = frozenset()
) -> Subject:
    return subject_of(
        weight_kg=70,
        age_years=50,
        sex="male",
        height_cm=175,
        results=results or {},
        conditions=conditions,
    )


def few(
    subject: Subject,
    loads: Sequence[Load],
    measured: Collection[str] = (),
    **ends: tuple[float, float],
) -> tuple[Choice, ...]:
    """What is chosen where every band stays where it begins, but for those given."""
    flat = {
        SODIUM: subject.sodium_mmol_l, POTASSIUM: subject.potassium_mmol_l, PH: subject.ph,
        CHLORIDE: subject.chloride_mmol_l, BICARBONATE: subject.bicarbonate_mmol_l,
        GLUCOSE: subject.glucose_mmol_l, PLASMA: subject.plasma_l,
    }  # fmt: skip
    reach = {key: (value, value) for key, value in flat.items()} | ends
    return chosen(subject, loads, Ahead(reach, measured))


def holds(catalogue: Catalogue, fluid_id: str) -> Composition:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return fluid.composition


def keys(choices: tuple[Choice, ...]) -> list[str]:
    return [one.key for one in choices]


def called_for(choices: tuple[Choice, ...]) -> set[str]:
    return {one.key for one in choices if one.why}


def test_sodium_is_always_drawn_and_first() -> None:
    assert keys(few(person(), []))[0] == SODIUM
    assert keys(few(person(), [Load(WATER, 5, 0, 60)]))[0] == SODIUM


def test_where_nothing_calls_for_more_three_are_drawn() -> None:
    choices = few(person(), [])
    assert len(choices) == LEAST
    assert called_for(choices) == set()


@pytest.mark.parametrize(
    ("results", "conditions", "potassium_mmol_l", "drawn"),
    [
        ({}, frozenset(), 0.0, False),
        ({}, frozenset(), 4.0, True),
        ({"potassium": 3.4}, frozenset(), 0.0, True),
        ({"potassium": 3.5}, frozenset(), 0.0, False),
        ({"potassium": 5.0}, frozenset(), 0.0, False),
        ({"potassium": 5.1}, frozenset(), 0.0, True),
        ({}, frozenset({"severe_kidney_failure"}), 0.0, True),
    ],
)
def test_potassium_is_called_for_by_the_bag_the_result_or_the_kidneys(
    results: Mapping[str, float],
    conditions: frozenset[str],
    potassium_mmol_l: float,
    drawn: bool,
) -> None:
    bag = Load(
        Composition(potassium_mmol_l=potassium_mmol_l, chloride_mmol_l=potassium_mmol_l), 0.1, 0, 60
    )
    assert (POTASSIUM in called_for(few(person(results, conditions), [bag]))) is drawn


def test_saline_in_volume_brings_chloride_and_bicarbonate(catalogue: Catalogue) -> None:
    saline = holds(catalogue, "sodium-chloride-0.9")
    much = few(person(), [Load(saline, 2, 0, 240)])
    little = few(person(), [Load(saline, 0.1, 0, 240)])
    assert {CHLORIDE, BICARBONATE} <= called_for(much)
    assert called_for(little) == set()


def test_lactated_ringer_s_in_volume_does_not(catalogue: Catalogue) -> None:
    fluid = holds(catalogue, "lactated-ringers")
    choices = few(person(), [Load(fluid, 2, 0, 240)])
    assert called_for(choices) == {POTASSIUM}


def test_a_bag_of_bicarbonate_calls_for_its_curve(catalogue: Catalogue) -> None:
    fluid = holds(catalogue, "sodium-bicarbonate-8.4")
    assert BICARBONATE in called_for(few(person(), [Load(fluid, 0.1, 0, 60)]))


def test_an_acidosis_is_followed_whatever_runs() -> None:
    assert BICARBONATE in called_for(few(person({"bicarbonate": 15}), []))
    assert BICARBONATE not in called_for(few(person({"bicarbonate": 23}), []))


def test_a_ph_without_a_bicarbonate_is_drawn_as_it_was_measured() -> None:
    sour = person({"ph": 7.2})
    assert PH in called_for(few(sour, [], {"ph"}))
    assert BICARBONATE in called_for(few(sour, [], {"ph", "bicarbonate"}))


def test_glucose_is_called_for_by_the_bag_or_the_result(catalogue: Catalogue) -> None:
    fluid = holds(catalogue, "glucose-5")
    assert GLUCOSE in called_for(few(person(), [Load(fluid, 0.1, 0, 60)]))
    assert GLUCOSE in called_for(few(person({"glucose": 22}), []))
    assert GLUCOSE not in called_for(few(person({"glucose": 9}), []))


@pytest.mark.parametrize(("litres", "minutes", "drawn"), [(0.5, 30, True), (0.5, 240, False)])
def test_a_bolus_calls_for_plasma_volume(
    catalogue: Catalogue,
    litres: float,
    minutes: float,
    drawn: bool,
) -> None:
    fluid = holds(catalogue, "lactated-ringers")
    choices = few(person(), [Load(fluid, litres, 0, minutes)])
    assert (PLASMA in called_for(choices)) is drawn


def test_a_colloid_does_however_slowly_it_runs(catalogue: Catalogue) -> None:
    fluid = holds(catalogue, "albumin-20")
    assert PLASMA in called_for(few(person(), [Load(fluid, 0.1, 0, 240)]))


def test_what_may_harm_soonest_comes_first_and_the_rest_is_left_out() -> None:
    ill = person({"potassium": 6.2, "bicarbonate": 12, "glucose": 25})
    saline = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
    choices = few(ill, [Load(saline, 1, 0, 30)])
    assert keys(choices) == [POTASSIUM, SODIUM, BICARBONATE, GLUCOSE]
    assert len(choices) == MOST
    assert choices[0].why == FAR


def test_while_insulin_runs_potassium_and_glucose_come_first() -> None:
    insulin = Load(WATER, 0, 0, 240, insulin_units=24)
    choices = few(person({"glucose": 22}), [insulin])
    assert keys(choices)[:3] == [POTASSIUM, GLUCOSE, SODIUM]
    assert [one.why for one in choices[:2]] == [INSULIN, INSULIN]


def test_where_a_band_ends_calls_for_its_curve_wherever_it_begins() -> None:
    assert POTASSIUM not in called_for(few(person(), []))
    falls = few(person(), [], potassium_mmol_l=(2.6, 4.2))
    assert keys(falls)[0] == POTASSIUM
    assert POTASSIUM in called_for(few(person(), [], potassium_mmol_l=(3.3, 4.2)))


def test_what_may_not_be_drawn_is_not_chosen() -> None:
    sour = person({"bicarbonate": 12})
    reach = {SODIUM: (140.0, 140.0), CHLORIDE: (104.0, 104.0)}
    assert set(keys(chosen(sour, [], Ahead(reach)))) == {SODIUM, CHLORIDE}
