"""What must hold of every course: mass and charge at each step, and order in what is given."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.chemistry.composition import Composition
from app.physiology.course import course as stepping
from app.physiology.course.body import BaselineError, Subject, subject_of
from app.physiology.course.charges import weak_charge
from app.physiology.course.course import Span, course_of
from app.physiology.course.loads import Load, Loss, chloride_of
from app.physiology.course.parameters import Values
from app.physiology.course.state import Start, State, mean_albumin, strong

PEOPLE = 6
ILLS = (
    "anuria", "acute_kidney_injury", "diabetes", "shock", "severe_liver_failure", "pregnancy",
    "siadh", "hypovolaemia", "heart_failure", "renal_tubular_acidosis", "diabetic_ketoacidosis",
)  # fmt: skip
LOSS_KINDS = ("urine", "gastric", "blood", "insensible")
NEAR = 1e-9
Measure = Callable[[State, Start, Span], Mapping[str, Values]]


def salt() -> st.SearchStrategy[Composition]:
    ions = st.floats(0, 300)
    return st.builds(
        Composition, sodium_mmol_l=ions, potassium_mmol_l=st.floats(0, 60), chloride_mmol_l=ions,
        lactate_mmol_l=st.floats(0, 60), calcium_mmol_l=st.floats(0, 3),
        gluconate_mmol_l=st.floats(0, 30), glucose_g_l=st.floats(0, 200),
        mannitol_g_l=st.floats(0, 200), albumin_g_l=st.floats(0, 200),
    )  # fmt: skip


@st.composite
def subjects(draw: st.DrawFn) -> Subject:
    """People of every age, size and start; a start that cannot be is not one."""
    age = draw(st.one_of(st.none(), st.floats(0, 95)))
    low, high = (
        (1, 6) if age is not None and age < 0.1 else (5, 60) if age and age < 16 else (40, 200)
    )
    results = {
        name: draw(st.floats(*span))
        for name, span in {
            "sodium": (110, 170), "potassium": (2, 7), "glucose": (2, 40), "lactate": (0.5, 8),
            "albumin": (10, 50), "haematocrit": (15, 60), "bicarbonate": (8, 45),
        }.items()
        if draw(st.booleans())
    }  # fmt: skip
    try:
        return subject_of(
            weight_kg=draw(st.floats(low, high)), age_years=age,
            sex=draw(st.sampled_from(["female", "male", None])), height_cm=None, results=results,
            conditions=frozenset(draw(st.sets(st.sampled_from(ILLS)))),
        )  # fmt: skip
    except BaselineError:
        return subject_of(weight_kg=70, age_years=50, sex="male", height_cm=175, results={})


@st.composite
def ordered(draw: st.DrawFn) -> tuple[Subject, list[Load], list[Loss]]:
    """Somebody, up to three infusions of up to a tenth of the weight, and up to two losses."""
    subject = draw(subjects())
    most_l, told = 0.1 * subject.weight_kg, st.one_of(st.none(), st.floats(0, 200))
    loads = [
        Load(
            draw(salt()), draw(st.floats(0.001, 0.4)) * most_l, draw(st.floats(0, 120)),
            draw(st.floats(1, 300)), draw(st.sampled_from([0.0, 0.0, 5.0])),
        )
        for _ in range(draw(st.integers(0, 3)))
    ]  # fmt: skip
    losses = [
        Loss(kind, draw(st.floats(0, 3)) * subject.weight_kg, draw(told))
        for kind in draw(st.lists(st.sampled_from(LOSS_KINDS), max_size=2))
    ]  # fmt: skip
    return subject, loads, losses


def amounts(state: State) -> dict[str, Any]:
    """What no step within the body makes or unmakes: all that is in fluids and in cells."""
    return {
        "water": state.water,
        "cations": state.sodium + state.potassium,
        "potassium": state.potassium + state.cell_potassium,
        "chloride": state.chloride,
        "divalent": state.divalent,
        "phosphate": state.phosphate,
        "albumin": state.albumin_plasma + state.albumin_interstitial,
        "mannitol": state.mannitol,
        "other solutes": state.solute - state.mannitol,
    }


def unchanged(name: str, what: Callable[..., None]) -> Callable[..., None]:
    """A step within the body, watched: nothing of what it must keep may change."""

    def watched(state: State, *rest: object) -> None:
        before = amounts(state)
        what(state, *rest)
        for amount, value in amounts(state).items():
            assert np.allclose(before[amount], value, rtol=NEAR, atol=NEAR), f"{name}: {amount}"

    return watched


def poured(what: Callable[..., None]) -> Callable[..., None]:
    """What runs in, watched: all of it arrives, and no more."""

    def watched(state: State, start: Start, loads: Sequence[Load], at: float, to: float) -> None:
        before = amounts(state)
        what(state, start, loads, at, to)
        came = {name: 0.0 for name in before}
        for load in loads:
            litres, fluid = load.litres_between(at, to), load.composition
            came["water"] += litres
            came["cations"] += litres * (fluid.sodium_mmol_l + fluid.potassium_mmol_l)
            came["potassium"] += litres * fluid.potassium_mmol_l
            came["chloride"] += litres * chloride_of(fluid)
            came["divalent"] += litres * 2 * (fluid.calcium_mmol_l + fluid.magnesium_mmol_l)
            came["albumin"] += litres * fluid.albumin_g_l
            came["mannitol"] += litres * fluid.mannitol_mmol_l
        for name, value in amounts(state).items():
            assert np.allclose(before[name] + came[name], value, rtol=NEAR, atol=NEAR), name

    return watched


def passed(name: str, what: Callable[..., None]) -> Callable[..., None]:
    """What goes out, watched: nothing is made, and water leaves plasma and interstitium alone."""

    def watched(state: State, *rest: object) -> None:
        before, outside = amounts(state), state.ecf
        what(state, *rest)
        for amount, value in amounts(state).items():
            assert (value <= before[amount] + NEAR * abs(before[amount]) + NEAR).all(), (
                name,
                amount,
            )
        gone = before["water"] - state.water
        assert np.allclose(outside - state.ecf, gone, atol=1e-9), name

    return watched


def seen(what: Measure) -> Measure:
    """What would be measured, watched: the charges balance."""

    def watched(state: State, start: Start, span: Span) -> Mapping[str, Values]:
        found = what(state, start, span)
        weak = weak_charge(mean_albumin(state), state.phosphate / state.ecf, found["ph"])
        inside = (found["ph"] > 6.01) & (found["ph"] < 8.49)
        gap = found["bicarbonate_mmol_l"] + weak - strong(state)
        assert np.abs(gap[inside]).max(initial=0) < 1e-5
        return found

    return watched


WITHIN = (
    "burn", "use_glucose", "share_water", "trade_with_cells", "trade_with_interstitium",
    "run_insulin",
)  # fmt: skip


@given(ordered())
@settings(max_examples=25, deadline=None)
def test_mass_and_charge_are_kept_at_every_step(
    case: tuple[Subject, list[Load], list[Loss]],
) -> None:
    subject, loads, losses = case
    watch = {name: unchanged(name, getattr(stepping, name)) for name in WITHIN}
    watch |= {name: passed(name, getattr(stepping, name)) for name in ("lose", "pass_urine")}
    watch |= {"pour": poured(stepping.pour), "_seen": seen(stepping._seen)}
    with patch.multiple(stepping, **watch), np.errstate(all="ignore"):
        course_of(subject, loads, losses, horizon_min=480, step_min=60, samples=PEOPLE)


@given(subjects(), st.sampled_from([None, True, False]))
@settings(max_examples=25, deadline=None)
def test_nothing_given_and_nothing_lost_changes_nothing(
    subject: Subject, keeps_water: bool | None
) -> None:
    course = course_of(
        subject, [], horizon_min=1440, step_min=720, samples=PEOPLE, keeps_water=keeps_water
    )
    for name, band in course.series.items():
        assert band.mid == pytest.approx([band.mid[0]] * 3, rel=1e-8, abs=1e-8), name
        assert band.low == pytest.approx(band.high, rel=1e-6, abs=1e-6), name


@given(subjects(), salt(), st.floats(0.001, 0.03), st.floats(0.1, 0.9), st.booleans())
@settings(max_examples=20, deadline=None)
def test_an_infusion_in_two_parts_does_what_the_whole_does(
    subject: Subject, fluid: Composition, share: float, part: float, insulin: bool
) -> None:
    litres, units, minutes = share * subject.weight_kg, 6.0 * insulin, 120.0
    whole = [Load(fluid, litres, 0, minutes, units)]
    parts = [
        Load(fluid, part * litres, 0, part * minutes, part * units),
        Load(fluid, (1 - part) * litres, part * minutes, (1 - part) * minutes, (1 - part) * units),
    ]
    both = [Load(fluid, part * litres, 0, minutes, part * units),
            Load(fluid, (1 - part) * litres, 0, minutes, (1 - part) * units)]  # fmt: skip
    one, two, three = (
        course_of(subject, loads, horizon_min=240, step_min=60, samples=2).series
        for loads in (whole, parts, both)
    )
    for name, band in one.items():
        assert two[name].mid == pytest.approx(band.mid, rel=1e-6, abs=1e-6), name
        assert three[name].mid == pytest.approx(band.mid, rel=1e-6, abs=1e-6), name


@given(
    ordered(), st.sampled_from(["sodium", "potassium", "chloride"]), st.floats(5, 150), salt(),
)  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_more_of_an_ion_never_lowers_it(
    case: tuple[Subject, list[Load], list[Loss]], ion: str, more: float, fluid: Composition
) -> None:
    subject, _, losses = case
    name = f"{ion}_mmol_l"
    found = []
    for extra in (0.0, more, 2 * more):
        held = getattr(fluid, name) + extra
        # A salt has two ions: the other goes along.
        other = "chloride_mmol_l" if ion != "chloride" else "sodium_mmol_l"
        given_ = replace(fluid, **{name: held, other: getattr(fluid, other) + extra})
        load = Load(given_, 0.01 * subject.weight_kg, 0, 60)
        with np.errstate(all="ignore"):
            course = course_of(subject, [load], losses, horizon_min=240, step_min=60, samples=1)
        found.append(np.array(course.series[name].mid))
    assert (np.diff(found, axis=0) >= -1e-6).all()


@given(
    st.sampled_from([(0.4, 0.0), (3.0, 0.0), (12.0, 2.0), (70.0, 40.0), (300.0, 40.0)]), salt(),
    st.floats(1e-6, 0.3), st.lists(st.sampled_from(LOSS_KINDS), max_size=4), st.floats(0, 50),
)  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_people_of_any_size_and_any_dose_stay_finite(
    of: tuple[float, float], fluid: Composition, share: float, kinds: list[Any], ml_kg_h: float
) -> None:
    kg, age = of
    subject = subject_of(weight_kg=kg, age_years=age, sex=None, height_cm=None, results={})
    load = Load(fluid, share * kg, 0, 60, insulin_units=kg)
    losses = [Loss(kind, ml_kg_h * kg) for kind in kinds]
    with np.errstate(all="ignore"):
        course = course_of(subject, [load], losses, horizon_min=2880, step_min=720, samples=PEOPLE)
    for name, band in course.series.items():
        assert np.isfinite([*band.mid, *band.low, *band.high]).all(), name
        assert all(a <= b <= c for a, b, c in zip(band.low, band.mid, band.high, strict=True))


@given(subjects(), salt(), st.floats(0.001, 0.05))
@settings(max_examples=25, deadline=None)
def test_who_keeps_water_never_has_less_of_it(
    subject: Subject, fluid: Composition, share: float
) -> None:
    load = Load(fluid, share * subject.weight_kg, 0, 240)
    kept, usual = (
        course_of(
            subject, [load], horizon_min=720, step_min=240, samples=1, keeps_water=keeps
        ).series
        for keeps in (True, None)
    )  # fmt: skip
    volumes = [name for name in kept if name.endswith("_volume_ml")]
    held, passed = (
        np.sum([series[name].mid for name in volumes], axis=0) for series in (kept, usual)
    )
    assert (held >= passed - 1e-6 * held - 0.002 * subject.weight_kg).all()


@given(st.floats(150, 175), st.floats(0.5, 4), st.floats(120, 1440))
@settings(max_examples=15, deadline=None)
def test_a_high_sodium_comes_down_by_all_the_water_given(
    sodium: float, litres: float, minutes: float
) -> None:
    subject = subject_of(
        weight_kg=70, age_years=60, sex="male", height_cm=175, results={"sodium": sodium}
    )  # fmt: skip
    load = Load(Composition(glucose_g_l=50), litres, 0, minutes)
    found = [
        course_of(subject, [load], losses, horizon_min=1440, step_min=720, samples=1)
        .series["sodium_mmol_l"]
        .mid[-1]
        for losses in ([], [Loss("urine", 0.0)])
    ]
    # Down to normal kidneys pass none of it; with it runs what stretches the volume, salty.
    assert found[0] == pytest.approx(max(found[1], 140), abs=1.5)
