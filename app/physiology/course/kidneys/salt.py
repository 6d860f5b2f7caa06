"""Excess salt passed: what stretches the fluid outside cells, and what raises sodium."""

from typing import Final

import numpy as np

from app.physiology.course.flow import take
from app.physiology.course.loads import PASSED, Salt, Urine
from app.physiology.course.parameters import Drawn
from app.physiology.course.state import Start, State, decay_of

# Chloride in a litre passed, mmol for each mmol/L that plasma has over a normal one; at most this.
CHLORIDE_FOLLOWS: Final = 4.0
CHLORIDE_MOST: Final = 250.0
# Urine of somebody whose sodium is high (textbook: up to 300 mmol/L of cations).
STRONG: Final = Salt(200.0, 20.0, 220.0)


def pass_excess(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Salt above the start goes slowly, its sodium as plasma's stands, chloride so that a normal
    one comes about: held where it is low, passed where it is high. A high chloride slows it
    (reid2003: half the urine after saline).
    """
    defends, usual = start.defends, start.subject.usual
    most = start.ecf if defends.ecf_share == 1 else start.ecf * defends.ecf_share
    excess = np.maximum(state.ecf - most, 0.0)
    if not excess.any():
        return
    sodium = state.sodium / state.ecf
    as_plasma = np.maximum(sodium / usual["sodium"], defends.saltier)
    higher = state.chloride / state.ecf - sodium - defends.chloride
    slowed = 1 + np.maximum(higher, 0.0) / drawn["chloride_halves_mmol_l"]
    litres = excess * (1 - np.exp(-decay_of(start, drawn, minutes).excess / slowed))
    chloride = np.maximum(PASSED.chloride * as_plasma + CHLORIDE_FOLLOWS * higher, 0.0)
    chloride = np.minimum(chloride, CHLORIDE_MOST)
    take(state, start, Urine(PASSED.sodium * as_plasma, PASSED.potassium, chloride), litres)


def pass_sodium(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """A sodium raised above normal is passed in strong urine, however little the volume is up."""
    defends = start.defends
    over = np.maximum(state.sodium - defends.sodium * state.ecf, 0.0)
    if not over.any():
        return
    passed = over * (1 - np.exp(-decay_of(start, drawn, minutes).sodium_l / state.ecf))
    take(state, start, STRONG, passed / STRONG.sodium)
