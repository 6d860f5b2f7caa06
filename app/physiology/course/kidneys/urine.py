"""All that kidneys pass in a step, and what mannitol and glucose take along."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from app.physiology.course.flow import take
from app.physiology.course.kidneys.acid import pass_acid_or_base
from app.physiology.course.kidneys.potassium import cleared, pass_potassium
from app.physiology.course.kidneys.salt import pass_excess, pass_sodium
from app.physiology.course.kidneys.water import pass_water
from app.physiology.course.loads import OSMOTIC, Loss
from app.physiology.course.parameters import Drawn, Values
from app.physiology.course.state import (
    MINUTES_PER_HOUR,
    ML_PER_L,
    Start,
    State,
    decay_of,
    osmoles,
)

# Most mannitol and glucose in a litre of urine whose volume is given (from memory).
SOLUTE_MOST_MMOL_L: Final = 400.0


def pass_urine(
    state: State, start: Start, drawn: Drawn, losses: Sequence[Loss], minutes: float
) -> None:
    """What kidneys pass of their own. Urine that is given is lost with the other losses; then only
    mannitol and glucose go with it, and no water besides.
    """
    told = [loss.ml_h for loss in losses if loss.kind == "urine"]
    if not told and not start.subject.anuric:
        osmoles_l = osmoles(state) / state.ecf
        pass_excess(state, start, drawn, minutes)
        pass_sodium(state, start, drawn, minutes)
        pass_acid_or_base(state, start, drawn, minutes)
        pass_potassium(state, start, drawn, minutes)
        pass_water(state, start, drawn, osmoles_l, minutes)
    mannitol, glucose = _spilt(state, start, drawn, minutes)
    if not (mannitol.any() or glucose.any()):
        return
    both = mannitol + glucose
    if told:
        litres = sum(told) / ML_PER_L * minutes / MINUTES_PER_HOUR
        share = np.minimum(SOLUTE_MOST_MMOL_L * litres / np.maximum(both, 1e-12), 1.0)
    else:
        share = np.ones_like(both)
        take(state, start, OSMOTIC, both / drawn["osmotic_urine_mmol_l"])
    state.mannitol = state.mannitol - mannitol * share
    state.solute = state.solute - mannitol * share
    state.glucose = state.glucose - glucose * share


def _spilt(state: State, start: Start, drawn: Drawn, minutes: float) -> tuple[Values, Values]:
    """Mannitol and glucose that kidneys would pass in so many minutes, mmol.

    Glucose that was as high at the start is taken as steady.
    """
    mannitol = state.mannitol
    if mannitol.any():
        mannitol = mannitol * decay_of(start, drawn, minutes).mannitol_gone
    kept = np.maximum(drawn["glucose_threshold_mmol_l"], start.subject.glucose_mmol_l)
    over = np.maximum(state.glucose - kept * state.ecf, 0.0)
    if not over.any():
        return mannitol, over
    return mannitol, over * cleared(state, start, drawn, minutes)
