"""Water that plasma and the two parts of the interstitium trade, and albumin that escapes."""

from typing import Final

import numpy as np

from app.physiology.course.parameters import Drawn, Values
from app.physiology.course.state import LEAST_SHARE, ML_PER_L, Start, State, decay_of

# A plasma that is fuller leaks faster (large against small boluses in hct_bolus1989), an emptier
# one draws faster still: colloid pressure rises more than in proportion (textbook; size from
# memory, so that dehydration by 3% of weight takes 7 to 10% of plasma).
FASTER_WHEN_FULL: Final = 4.0
FASTER_WHEN_EMPTY: Final = 8.0


def trade_with_interstitium(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Plasma and the near part of the interstitium trade water fast, the near and the far part
    slowly. Albumin and other colloid that plasma has gained or lost move where it comes to rest.
    """
    pull = _pull(state, start, drawn)
    usual_l, decay = start.subject.plasma_l, decay_of(start, drawn, minutes)
    rest = usual_l + pull
    above = state.plasma - rest
    near = state.ecf - start.ecf - pull - state.far
    faster = np.maximum(FASTER_WHEN_FULL * above, -FASTER_WHEN_EMPTY * above) / usual_l
    out = drawn["out_per_min"] * start.leaks * (1 + faster)
    both = out + drawn["back_per_min"]
    settled = near * drawn["back_per_min"] / both
    above = settled + (above - settled) * np.exp(-both * minutes)
    state.plasma = np.maximum(rest + above, LEAST_SHARE * usual_l)
    state.far = state.far + (start.far_of * (near - above + state.far) - state.far) * decay.far
    escaped = (state.albumin_plasma - start.albumin) * decay.albumin_gone
    state.albumin_plasma = state.albumin_plasma - escaped
    state.albumin_interstitial = state.albumin_interstitial + escaped


def _pull(state: State, start: Start, drawn: Drawn) -> Values:
    """Water that colloid gained in plasma holds there, L; less than none where albumin was lost."""
    pull = drawn["albumin_pull_ml_g"] * (state.albumin_plasma - start.albumin)
    if state.starch.any():
        pull = pull + drawn["starch_pull_ml_g"] * state.starch
    if state.gelatin.any():
        pull = pull + drawn["gelatin_pull_ml_g"] * state.gelatin
    return np.asarray(pull / ML_PER_L)
