"""Acid passed slowly, base above normal within hours."""

from typing import Final

import numpy as np

from app.physiology.course.flow import take
from app.physiology.course.loads import Salt
from app.physiology.course.parameters import Drawn
from app.physiology.course.state import Start, State, base_outside, decay_of

# Cations that go with bicarbonate in a litre of alkaline urine (from memory).
ALKALINE: Final = Salt(170.0, 30.0, 0.0)


def pass_acid_or_base(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Towards the lower of the start and normal with ammonium chloride, over a day; what is above
    the higher of the two goes as bicarbonate with its cations, as fast as it is filtered.
    """
    defends, base = start.defends, base_outside(state)
    lacks = np.maximum(defends.base_least - base, 0.0)
    if defends.acid and lacks.any():
        passed = lacks * state.ecf * decay_of(start, drawn, minutes).acid_gone
        state.chloride = state.chloride - np.minimum(passed, state.chloride)
    over = np.maximum(base - defends.base_most, 0.0)
    if over.any():
        gone = 1 - np.exp(-minutes * start.filtered * defends.salt / state.ecf)
        litres = over * state.ecf * gone / (ALKALINE.sodium + ALKALINE.potassium)
        take(state, start, ALKALINE, litres)
