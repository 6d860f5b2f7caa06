"""Organic anions burnt."""

import numpy as np

from app.physiology.course.loads import ORGANIC
from app.physiology.course.parameters import Drawn
from app.physiology.course.state import Start, State

GLUCONATE = ORGANIC.index("gluconate")


def burn(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Organic anions are cleared, so many litres of them a minute, and lactate is made: thinned, it
    is soon back where it was, and nobody clears what is not above the start. What of gluconate is
    not burnt stays an anion.
    """
    thinner = start.ecf / state.ecf * minutes
    steady = start.subject.lactate_mmol_l * state.ecf
    if not state.organic[1:].any():
        lactate = state.organic[0]
        lactate = steady + (lactate - steady) * np.exp(-start.rates[0] * thinner)
        state.organic = np.concatenate((lactate[None], state.organic[1:]))
        return
    left = np.exp(-start.rates * thinner)
    gluconate = state.organic[GLUCONATE] * (1 - left[GLUCONATE])
    state.organic = state.organic * left
    state.organic[0] += steady * (1 - left[0])
    state.rest = state.rest + gluconate * (1 - drawn["gluconate_share"])
