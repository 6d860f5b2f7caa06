"""Water passed where plasma is thin."""

from typing import Final

import numpy as np

from app.physiology.course.parameters import Drawn, Values
from app.physiology.course.state import ML_PER_L, Start, State, decay_of

# Where a cause that kept water was a lack of salt: gained, of what is outside cells, at which it
# begins to be made good, and from there to where it is (no source).
MADE_GOOD_FROM: Final = 0.02
MADE_GOOD_OVER: Final = 0.04


def pass_water(state: State, start: Start, drawn: Drawn, osmoles_l: Values, minutes: float) -> None:
    """Pure water, the more the thinner plasma is; osmoles_l: of what is outside cells now."""
    defends = start.defends
    below = defends.osmoles_l
    if defends.wakes.any():
        gained = state.sodium / start.sodium - 1 - MADE_GOOD_FROM
        woken = defends.wakes * np.minimum(np.maximum(gained / MADE_GOOD_OVER, 0.0), 1.0)
        below = below + woken * (defends.normal_osmoles_l - below)
    thin = np.maximum(below - osmoles_l, 0.0)
    if not (thin.any() or state.thin_felt.any()):
        return
    felt = decay_of(start, drawn, minutes).felt
    state.thin_felt = state.thin_felt + (thin - state.thin_felt) * felt
    ml_kg = np.minimum(drawn["water_ml_kg_min"] * state.thin_felt, defends.most) * defends.water
    litres = ml_kg * start.passes * start.subject.weight_kg / ML_PER_L * minutes
    state.water = state.water - litres
    state.ecf = state.ecf - litres
