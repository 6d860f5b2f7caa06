"""What comes in and goes out of the state in one step."""

from collections.abc import Iterable
from typing import Final

import numpy as np

from app.chemistry.composition import Composition
from app.physiology.course.loads import (
    LOST,
    ORGANIC,
    PASSED,
    Load,
    Loss,
    Salt,
    chloride_of,
    divalent_meq_l,
)
from app.physiology.course.parameters import Values
from app.physiology.course.state import (
    MINUTES_PER_HOUR,
    ML_PER_L,
    WATER_FROM_MOSM,
    WATER_MOST_ML_KG_MIN,
    Drawn,
    Start,
    State,
    decay_of,
    give_potassium,
    osmoles,
)

# Chloride in a litre passed, mmol for each mmol/L that plasma has gained.
CHLORIDE_FOLLOWS: Final = 4.0
# Nobody loses more of what is outside cells in one step of the clock.
MOST_LOST_AT_ONCE: Final = 0.05


def pour(state: State, start: Start, loads: Iterable[Load], from_min: float, to_min: float) -> None:
    """Everything that runs between two times goes into plasma and fluid outside cells.

    Cells make up most of the potassium that a fluid lacks, so that volume alone dilutes little.
    """
    for load in loads:
        litres = load.litres_between(from_min, to_min)
        if litres:
            _add(state, load.composition, litres)
            lacks = start.subject.potassium_mmol_l - load.composition.potassium_mmol_l
            give_potassium(state, max(lacks, 0.0) * litres)


def _add(state: State, fluid: Composition, litres: float) -> None:
    state.water = state.water + litres
    state.ecf = state.ecf + litres
    state.plasma = state.plasma + litres
    state.sodium = state.sodium + fluid.sodium_mmol_l * litres
    state.potassium = state.potassium + fluid.potassium_mmol_l * litres
    state.chloride = state.chloride + chloride_of(fluid) * litres
    state.divalent = state.divalent + divalent_meq_l(fluid) * litres
    organic = np.array([fluid.ion_mmol_l(name) or 0.0 for name in ORGANIC])
    state.organic = state.organic + organic[:, None] * litres
    state.phosphate = state.phosphate + fluid.phosphate_mmol_l * litres
    state.rest = state.rest + (2 * fluid.sulfate_mmol_l + _gelatin_charge(fluid)) * litres
    state.glucose = state.glucose + fluid.glucose_mmol_l * litres
    state.solute = state.solute + (fluid.mannitol_mmol_l + fluid.other_solute_mmol_l) * litres
    state.albumin_plasma = state.albumin_plasma + fluid.albumin_g_l * litres
    state.albumin_added = state.albumin_added + fluid.albumin_g_l * litres
    state.starch = state.starch + fluid.starch_g_l * litres
    state.gelatin = state.gelatin + fluid.gelatin_g_l * litres


def _gelatin_charge(fluid: Composition) -> float:
    """Anions of gelatin, mEq/L: what the salts of its fluid leave open."""
    return -fluid.colloid_charge_meq_l if fluid.gelatin_g_l else 0.0


def lose(state: State, losses: Iterable[Loss], minutes: float) -> None:
    """What is lost all the time, with its salt; blood as plasma and cells."""
    for loss in losses:
        litres = loss.ml_h / ML_PER_L * minutes / MINUTES_PER_HOUR
        if loss.kind == "blood":
            _bleed(state, litres)
        else:
            _take(state, LOST[loss.kind], np.full_like(state.water, litres))


def _bleed(state: State, litres: float) -> None:
    blood = state.plasma + state.red_cells
    kept = 1 - np.minimum(litres / blood, MOST_LOST_AT_ONCE)
    plasma = state.plasma * (1 - kept)
    outside = 1 - plasma / state.ecf
    for name in ("sodium", "potassium", "chloride", "divalent", "rest", "phosphate", "glucose"):
        setattr(state, name, getattr(state, name) * outside)
    state.organic = state.organic * outside
    for name in ("albumin_plasma", "albumin_added", "starch", "gelatin", "red_cells", "plasma"):
        setattr(state, name, getattr(state, name) * kept)
    state.water = state.water - plasma
    state.ecf = state.ecf - plasma


def _take(state: State, salt: Salt, litres: Values) -> None:
    litres = np.minimum(litres, MOST_LOST_AT_ONCE * state.ecf)
    state.water = state.water - litres
    state.ecf = state.ecf - litres
    for name in ("sodium", "potassium", "chloride"):
        held = getattr(state, name)
        lost = np.minimum(getattr(salt, name) * litres, MOST_LOST_AT_ONCE * held)
        setattr(state, name, held - lost)


def pass_excess(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Healthy kidneys pass salt that is above the start slowly, and water that thins it faster."""
    above = np.maximum(state.ecf - start.ecf, 0.0)
    litres = above * (1 - decay_of(start, drawn, minutes).excess)
    _take(state, PASSED, litres)
    # Kidneys pass chloride with the salt, more of it the higher it stands.
    higher = state.chloride / state.ecf - start.subject.chloride_mmol_l
    state.chloride = state.chloride - CHLORIDE_FOLLOWS * higher * litres
    thin = np.maximum(start.osmoles_l - osmoles(state) / state.ecf - WATER_FROM_MOSM, 0.0)
    ml_kg = np.minimum(drawn["water_ml_kg_min"] * thin, WATER_MOST_ML_KG_MIN)
    litres = ml_kg * start.subject.weight_kg / ML_PER_L * minutes
    state.water = state.water - litres
    state.ecf = state.ecf - litres
