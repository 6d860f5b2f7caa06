"""What comes in and goes out of the state in one step."""

from collections.abc import Iterable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from app.chemistry.composition import Composition
from app.physiology.course.loads import (
    ORGANIC,
    Load,
    Loss,
    Salt,
    Urine,
    chloride_of,
    divalent_meq_l,
)
from app.physiology.course.parameters import Values
from app.physiology.course.state import (
    LEAST_SHARE,
    MINUTES_PER_HOUR,
    ML_PER_L,
    POTASSIUM_FOLLOWS,
    Start,
    State,
    give_potassium,
)

# Nobody loses more of what is outside cells in one step of the clock.
MOST_LOST_AT_ONCE: Final = 0.05
# What is in plasma and in all fluid outside cells alike, and what is in blood alone.
OUTSIDE: Final = (
    "sodium", "potassium", "chloride", "divalent", "rest", "phosphate", "glucose", "solute",
    "mannitol", "organic",
)  # fmt: skip
IN_BLOOD: Final = (
    "albumin_plasma", "starch", "gelatin", "red_cells", "insulin", "plasma",
)  # fmt: skip


def pour(state: State, start: Start, loads: Iterable[Load], from_min: float, to_min: float) -> None:
    """Everything that runs between two times goes into plasma and fluid outside cells.

    Cells make up most of the potassium that a fluid lacks, so that volume alone dilutes little.
    """
    for load in loads:
        litres = load.litres_between(from_min, to_min)
        if litres:
            _add(state, load.composition, litres)
            lacks = start.subject.potassium_mmol_l - load.composition.potassium_mmol_l
            give_potassium(state, POTASSIUM_FOLLOWS * max(lacks, 0.0) * litres)


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
    state.mannitol = state.mannitol + fluid.mannitol_mmol_l * litres
    state.solute = state.solute + (fluid.mannitol_mmol_l + fluid.other_solute_mmol_l) * litres
    state.albumin_plasma = state.albumin_plasma + fluid.albumin_g_l * litres
    state.starch = state.starch + fluid.starch_g_l * litres
    state.gelatin = state.gelatin + fluid.gelatin_g_l * litres


def _gelatin_charge(fluid: Composition) -> float:
    """Anions of gelatin, mEq/L: what the salts of its fluid leave open."""
    return -fluid.colloid_charge_meq_l if fluid.gelatin_g_l else 0.0


def lose(state: State, start: Start, losses: Iterable[Loss], minutes: float) -> None:
    """What is lost all the time, with its salt; blood as plasma and cells. Nobody loses on who has
    next to nothing left.
    """
    for loss in losses:
        litres = loss.ml_h / ML_PER_L * minutes / MINUTES_PER_HOUR
        if loss.kind == "blood":
            _bleed(state, np.where(_able(state, start), litres, 0.0))
        else:
            take(state, start, loss.salt, np.full_like(state.water, litres))


def _able(state: State, start: Start) -> NDArray[np.bool_]:
    return np.asarray(state.ecf > LEAST_SHARE * start.ecf)


def _bleed(state: State, litres: Values) -> None:
    blood = state.plasma + state.red_cells
    kept = 1 - np.minimum(litres / blood, MOST_LOST_AT_ONCE)
    plasma = state.plasma * (1 - kept)
    outside = 1 - plasma / state.ecf
    for name in OUTSIDE:
        setattr(state, name, getattr(state, name) * outside)
    for name in IN_BLOOD:
        setattr(state, name, getattr(state, name) * kept)
    state.water = state.water - plasma
    state.ecf = state.ecf - plasma


def take(state: State, start: Start, salt: Salt | Urine, litres: Values) -> None:
    """Water goes from outside cells, with so much salt in a litre; never all of either."""
    litres = np.minimum(litres, MOST_LOST_AT_ONCE * state.ecf) * _able(state, start)
    state.water = state.water - litres
    state.ecf = state.ecf - litres
    wanted = salt.sodium * litres
    sodium = np.minimum(wanted, MOST_LOST_AT_ONCE * state.sodium)
    potassium, chloride = salt.potassium * litres, salt.chloride * litres
    if salt.potassium:
        wanted = wanted + potassium
        potassium = np.minimum(potassium, MOST_LOST_AT_ONCE * state.potassium)
        state.potassium = state.potassium - potassium
    # As much less chloride goes as there was too little of the others to go with it.
    chloride = np.minimum(
        chloride - wanted + sodium + potassium, MOST_LOST_AT_ONCE * state.chloride
    )
    state.sodium = state.sodium - sodium
    state.chloride = state.chloride - np.maximum(chloride, 0.0)
