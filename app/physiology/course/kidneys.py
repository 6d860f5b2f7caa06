"""What kidneys pass: excess salt and water, and what mannitol and glucose take along."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from app.physiology.course.flow import take
from app.physiology.course.loads import OSMOTIC, PASSED, Loss, Salt
from app.physiology.course.parameters import Values
from app.physiology.course.state import (
    MINUTES_PER_HOUR,
    ML_PER_L,
    Drawn,
    Start,
    State,
    decay_of,
    osmoles,
)

# Chloride in a litre passed, mmol for each mmol/L that plasma has gained; never more than this.
CHLORIDE_FOLLOWS: Final = 4.0
CHLORIDE_MOST: Final = 250.0
WATER_FROM_MOSM: Final = 2.0
WATER_MOST_ML_KG_MIN: Final = 0.15
# Up to here kidneys keep potassium; above, about as much is passed as is filtered of the excess
# (6 mmol/h for each mmol/L; from memory).
POTASSIUM_KEPT_MMOL_L: Final = 4.2
# Most mannitol and glucose in a litre of urine whose volume is given (from memory).
SOLUTE_MOST_MMOL_L: Final = 400.0


def pass_urine(
    state: State, start: Start, drawn: Drawn, losses: Sequence[Loss], minutes: float
) -> None:
    """What kidneys pass of their own. Urine that is given is lost with the other losses; then only
    mannitol and glucose go with it, and no water besides.
    """
    told = [loss.ml_h for loss in losses if loss.kind == "urine"]
    if not told:
        if not start.keeps_water:
            pass_excess(state, start, drawn, minutes)
        pass_potassium(state, start, drawn, minutes)
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
    mannitol = state.mannitol * decay_of(start, drawn, minutes).mannitol_gone
    kept = np.maximum(drawn["glucose_threshold_mmol_l"], start.subject.glucose_mmol_l)
    over = np.maximum(state.glucose - kept * state.ecf, 0.0)
    if not over.any():
        return mannitol, over
    return mannitol, over * _cleared(state, start, drawn, minutes)


def _cleared(state: State, start: Start, drawn: Drawn, minutes: float) -> Values:
    """The share of what is over a threshold that leaves with what kidneys filter."""
    filtered = drawn["filtered_l_kg_min"] * start.passes * start.subject.weight_kg
    return np.asarray(1 - np.exp(-filtered / state.ecf * minutes))


def pass_potassium(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Kidneys pass potassium above the start, with chloride; none that only mends a low one."""
    kept = max(start.subject.potassium_mmol_l, POTASSIUM_KEPT_MMOL_L)
    over = np.maximum(state.potassium - kept * state.ecf, 0.0)
    if not over.any():
        return
    passed = over * _cleared(state, start, drawn, minutes)
    state.potassium = state.potassium - passed
    state.chloride = state.chloride - passed


def pass_excess(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Healthy kidneys pass salt that is above the start slowly, and water that thins it faster;
    failing ones a share of that.
    """
    litres = np.maximum(state.ecf - start.ecf, 0.0) * decay_of(start, drawn, minutes).excess_gone
    # Kidneys pass chloride with the salt, more of it the higher it stands.
    higher = state.chloride / state.ecf - start.subject.chloride_mmol_l
    chloride = np.maximum(PASSED.chloride + CHLORIDE_FOLLOWS * higher, 0.0)
    chloride = np.minimum(chloride, CHLORIDE_MOST)
    take(state, start, Salt(PASSED.sodium, PASSED.potassium, chloride), litres)
    thin = np.maximum(start.osmoles_l - osmoles(state) / state.ecf - WATER_FROM_MOSM, 0.0)
    if not thin.any():
        return
    ml_kg = np.minimum(drawn["water_ml_kg_min"] * thin, WATER_MOST_ML_KG_MIN) * start.passes
    litres = ml_kg * start.subject.weight_kg / ML_PER_L * minutes
    state.water = state.water - litres
    state.ecf = state.ecf - litres
