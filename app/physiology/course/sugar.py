"""Glucose used, and insulin that is given: how long it acts, and on how much glucose."""

from collections.abc import Iterable
from typing import Final

import numpy as np

from app.physiology.course.loads import Load
from app.physiology.course.parameters import Drawn
from app.physiology.course.state import LN2, Start, State, decay_of

# Most glucose that is disposed of, mmol/kg/min: in health (20 mg/kg/min), and in shock (4).
GLUCOSE_MOST: Final = 0.111
GLUCOSE_MOST_SHOCK: Final = 0.022
# Insulin spreads over this, L/kg; its effect comes on with this time constant, min (from memory).
INSULIN_L_KG: Final = 0.15
COMES_ON_MIN: Final = 15.0
MILLI: Final = 1000.0
# Glucose at which half of what insulin would use is used; below the second the liver makes more,
# at most so fast (2.5 times what it makes at rest). mmol/L, mmol/kg/min, from memory.
HALF_USED_MMOL_L: Final = 5.0
DEFENDED_MMOL_L: Final = 5.0
MADE_MOST: Final = 0.028
# Insulin comes and goes within minutes, so its own steps are short.
LONGEST_MIN: Final = 3.0


def run_insulin(
    state: State, start: Start, drawn: Drawn, loads: Iterable[Load], span: tuple[float, float]
) -> None:
    """Insulin given comes and goes in plasma; its effect follows, and wears off more slowly."""
    given = [load for load in loads if load.insulin_units]
    if not given:
        return
    from_min, to_min = span
    pieces = max(int(np.ceil((to_min - from_min) / LONGEST_MIN)), 1)
    minutes = (to_min - from_min) / pieces
    gone = LN2 / drawn["insulin_min"]
    left = np.exp(-gone * minutes)
    wears = np.exp(-LN2 / drawn["insulin_wears_min"] * minutes)
    half = drawn["insulin_half_mu_l"] * INSULIN_L_KG * start.subject.weight_kg / MILLI
    for piece in range(pieces):
        at = from_min + piece * minutes
        steady = sum(load.units_between(at, at + minutes) for load in given) / minutes / gone
        mean = steady + (state.insulin - steady) * (1 - left) / (gone * minutes)
        wanted = mean / (mean + half)
        kept = np.where(wanted > state.acts, np.exp(-minutes / COMES_ON_MIN), wears)
        state.acts = wanted + (state.acts - wanted) * kept
        state.insulin = steady + (state.insulin - steady) * left


def use_glucose(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Glucose above the start goes, at most so fast; insulin given takes more; a low one is
    defended.
    """
    subject = start.subject
    most = GLUCOSE_MOST_SHOCK if subject.shock else GLUCOSE_MOST
    excess = np.maximum(state.glucose - subject.glucose_mmol_l * state.ecf, 0.0)
    gone = excess * decay_of(start, drawn, minutes).glucose_gone
    state.glucose = state.glucose - np.minimum(gone, most * subject.weight_kg * minutes)
    if state.acts.any():
        outside = state.glucose / state.ecf
        full = drawn["insulin_glucose"] * start.uses * subject.weight_kg * state.acts
        rate = full / (outside + HALF_USED_MMOL_L) / state.ecf
        state.glucose = state.glucose * np.exp(-rate * minutes)
    _defend(state, start, drawn, minutes)


def _defend(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """The liver makes more glucose where there is little."""
    subject = start.subject
    least = min(subject.glucose_mmol_l, DEFENDED_MMOL_L)
    lacks = np.maximum(least * state.ecf - state.glucose, 0.0)
    if lacks.any():
        made = lacks * (1 - np.exp(-drawn["glucose_per_min"] * minutes))
        state.glucose = state.glucose + np.minimum(made, MADE_MOST * subject.weight_kg * minutes)
