"""The course of a prediction: stepped through time, for the middle person and a range of people."""

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, fields, replace
from itertools import pairwise
from typing import Final

import numpy as np

from app.physiology.acid_base import standard_base_excess_mmol_l
from app.physiology.course.bands import INTERVAL, Band, bands_of, stirred_by
from app.physiology.course.baseline.gas import (
    HIGHEST_PCO2,
    LOWEST_PCO2,
    RESPONSE_DOWN,
    RESPONSE_UP,
)
from app.physiology.course.body import Subject
from app.physiology.course.charges import bicarbonate_at, ph_that_balances
from app.physiology.course.flow import lose, pour
from app.physiology.course.kidneys.urine import pass_urine
from app.physiology.course.loads import Load, Loss, losses_between
from app.physiology.course.parameters import Drawn, Values, drawn
from app.physiology.course.state import (
    ML_PER_L,
    Start,
    State,
    begin,
    mean_albumin,
    osmoles,
    strong,
)
from app.physiology.course.sugar import run_insulin, use_glucose
from app.physiology.course.telling.left_out import NOT_MODELLED, left_out_of
from app.physiology.course.telling.withheld import Withheld, withheld_of
from app.physiology.course.within.cells import share_water, trade_with_cells
from app.physiology.course.within.organic import burn
from app.physiology.course.within.plasma import trade_with_interstitium

# Longest step, min, for predictions up to so many minutes.
STEPS_MIN: Final = (
    (60.0, 1.0), (120.0, 2.5), (240.0, 5.0), (720.0, 10.0), (float("inf"), 15.0),
)  # fmt: skip
PERCENT: Final = 100.0
# Red cells are water for seven tenths, and follow osmolality.
RED_CELL_WATER: Final = 0.7
RESPONSES: Final = 4


@dataclass(frozen=True, slots=True)
class Course:
    """Series by name (unit in the name; haematocrit in points), at each time in minutes."""

    times_min: tuple[float, ...]
    series: Mapping[str, Band]
    interval: str = INTERVAL
    not_modelled: tuple[str, ...] = NOT_MODELLED
    withheld: tuple[Withheld, ...] = ()


@dataclass(frozen=True, slots=True)
class Span:
    """How far and how finely to look, min, when besides, and whether breathing responds."""

    horizon_min: float
    step_min: float
    responding_pco2: bool = False
    also_min: tuple[float, ...] = ()


def course_of(  # noqa: PLR0913 - the interface's own words
    subject: Subject,
    loads: Sequence[Load],
    losses: Sequence[Loss] = (),
    *,
    horizon_min: float,
    step_min: float,
    responding_pco2: bool = False,
    samples: int = 500,
    also_min: Sequence[float] = (),
    keeps_water: bool | None = None,
) -> Course:
    """Predict. The same input gives the same output.

    also_min: times shown besides. keeps_water: True, kidneys pass no water and no excess salt;
    False, they pass water freely; None, as the subject's conditions say.
    """
    people = drawn(samples)
    state, start = begin(subject, people, keeps_water=keeps_water)
    span = Span(horizon_min, step_min, responding_pco2, tuple(also_min))
    times = _times(span)
    states = [copy(state)]
    for before, after in pairwise(times):
        _advance(state, start, (people, loads, losses), (before, after))
        states.append(copy(state))
    stirred = stirred_by(loads, losses, times, float(start.ecf[0]))
    bands = bands_of(_seen_at_all(states, start, span), stirred)
    kept_back = withheld_of(subject, times, bands)
    return Course(times, bands, not_modelled=left_out_of(subject, loads), withheld=kept_back)


def _times(span: Span) -> tuple[float, ...]:
    count = int(span.horizon_min // span.step_min)
    times = {n * span.step_min for n in range(count + 1)} | {float(span.horizon_min)}
    return tuple(sorted(times | {float(at) for at in span.also_min if 0 < at < span.horizon_min}))


def _advance(
    state: State,
    start: Start,
    what: tuple[Drawn, Sequence[Load], Sequence[Loss]],
    span: tuple[float, float],
) -> None:
    """From one time shown to the next, in steps short enough for the length of the whole."""
    people, loads, losses = what
    before, after = span
    longest = next(step for up_to, step in STEPS_MIN if after <= up_to)
    pieces = max(int(np.ceil((after - before) / longest)), 1)
    edges = np.linspace(before, after, pieces + 1)
    for at, then in pairwise(edges):
        # Edges differ in the last digit; a step's length is one number.
        minutes = (after - before) / pieces
        middle = float(at + then) / 2
        # Half before and half after what moves it on, so that a long step errs little.
        pour(state, start, loads, float(at), middle)
        lost = losses_between(losses, float(at), float(then))
        lose(state, start, lost, minutes)
        run_insulin(state, start, people, loads, (float(at), float(then)))
        burn(state, start, people, minutes)
        use_glucose(state, start, people, minutes)
        share_water(state, start, people, minutes / 2)
        trade_with_cells(state, start, people, minutes)
        trade_with_interstitium(state, start, people, minutes)
        pass_urine(state, start, people, lost, minutes)
        pour(state, start, loads, middle, float(then))
        share_water(state, start, people, minutes / 2)


def _seen_at_all(states: Sequence[State], start: Start, span: Span) -> dict[str, Values]:
    """What would be measured at every time: a row a time, worked out together since that is fast.

    A step makes new amounts and changes none in place, so that a state kept is as it was.
    """
    everyone = State(
        **{
            one.name: np.concatenate([getattr(state, one.name) for state in states], axis=-1)
            for one in fields(State)
        }
    )
    then = replace(start, osmoles_l=np.tile(start.osmoles_l, len(states)))
    shape = (len(states), start.ecf.size)
    return {name: v.reshape(shape) for name, v in _seen(everyone, then, span).items()}


def _seen(state: State, start: Start, span: Span) -> dict[str, Values]:
    """What would be measured now."""
    ecf, subject = state.ecf, start.subject
    ph, bicarbonate = _gas(state, start, span)
    osmoles_l = osmoles(state) / ecf
    swell = start.osmoles_l / osmoles_l
    red_cells = state.red_cells * (1 - RED_CELL_WATER + RED_CELL_WATER * swell)
    return {
        "sodium_mmol_l": state.sodium / ecf,
        "potassium_mmol_l": state.potassium / ecf,
        "chloride_mmol_l": state.chloride / ecf,
        "bicarbonate_mmol_l": bicarbonate,
        "base_excess_mmol_l": standard_base_excess_mmol_l(bicarbonate, ph),
        "ph": ph,
        "albumin_g_l": state.albumin_plasma / state.plasma,
        "osmolality_mosm_kg": subject.osmolality_mosm_kg + osmoles_l - start.osmoles_l,
        "haematocrit": PERCENT * red_cells / (red_cells + state.plasma),
        "glucose_mmol_l": state.glucose / ecf,
        "lactate_mmol_l": state.organic[0] / ecf,
        "plasma_volume_ml": state.plasma * ML_PER_L,
        "interstitial_volume_ml": (ecf - state.plasma) * ML_PER_L,
        "intracellular_volume_ml": (state.water - ecf) * ML_PER_L,
    }


def _gas(state: State, start: Start, span: Span) -> tuple[Values, Values]:
    """pH and bicarbonate at the carbon dioxide given, or at the one that breathing brings."""
    subject = start.subject
    charge, albumin = strong(state), mean_albumin(state)
    phosphate = state.phosphate / state.ecf
    pco2 = np.full_like(charge, subject.pco2_mmhg)
    for _ in range(RESPONSES if span.responding_pco2 else 1):
        ph = ph_that_balances(charge, albumin, phosphate, pco2)
        bicarbonate = bicarbonate_at(ph, pco2)
        change = bicarbonate - subject.bicarbonate_mmol_l
        slope = np.where(change < 0, RESPONSE_DOWN, RESPONSE_UP)
        if span.responding_pco2:
            pco2 = np.clip(subject.pco2_mmhg + slope * change, LOWEST_PCO2, HIGHEST_PCO2)
    return ph, bicarbonate
