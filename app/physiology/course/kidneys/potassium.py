"""Potassium passed above what kidneys keep."""

from typing import Final

import numpy as np

from app.physiology.course.parameters import Drawn, Values
from app.physiology.course.state import Start, State, decay_of

# Up to here kidneys keep potassium; above, about as much is passed as is filtered of the excess
# (6 mmol/h for each mmol/L; from memory).
POTASSIUM_KEPT_MMOL_L: Final = 4.0
# A potassium that was high at the start goes on coming down once salt reaches where it is passed:
# in full when the fluid outside cells has grown by so much (no source). Failing kidneys bring none
# down: the body goes on making it.
FLOWS_AT: Final = 0.05


def pass_potassium(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Potassium above normal goes with chloride; none that only mends a low one."""
    kept: Values | float = max(start.subject.potassium_mmol_l, POTASSIUM_KEPT_MMOL_L)
    high = kept - POTASSIUM_KEPT_MMOL_L
    if high and not start.subject.kidneys_fail:
        flows = (state.ecf / start.ecf - 1) / FLOWS_AT
        kept = kept - high * np.minimum(np.maximum(flows, 0.0), 1.0)
    over = np.maximum(state.potassium - kept * state.ecf, 0.0)
    if not over.any():
        return
    passed = over * cleared(state, start, drawn, minutes)
    state.potassium = state.potassium - passed
    state.chloride = state.chloride - np.minimum(passed, state.chloride)


def cleared(state: State, start: Start, drawn: Drawn, minutes: float) -> Values:
    """The share of what is over a threshold that leaves with what kidneys filter."""
    return np.asarray(1 - np.exp(-decay_of(start, drawn, minutes).filtered_l / state.ecf))
