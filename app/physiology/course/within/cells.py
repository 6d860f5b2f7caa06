"""Potassium, base and water of cells."""

from typing import Final

import numpy as np

from app.physiology.course.parameters import Drawn, Values
from app.physiology.course.state import (
    MOST_AT_ONCE,
    POTASSIUM_FOLLOWS,
    Start,
    State,
    base_outside,
    decay_of,
    give_potassium,
    osmoles,
)

# Shift of the potassium that cells keep up, mmol/L: by base, and by glucose above the start, which
# brings insulin of its own (it pulls as an osmole too). From memory.
POTASSIUM_PER_BASE: Final = -0.05
POTASSIUM_PER_GLUCOSE: Final = -0.045
# Insulin moves less of a low potassium: in full from this on, mmol/L (common practice, no source).
POTASSIUM_IN_FULL: Final = 4.0
# No shift empties plasma of it: the least that cells keep up, mmol/L.
LEAST_POTASSIUM: Final = 0.5


def trade_with_cells(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Potassium into and out of cells for sodium, and base against the buffers of cells."""
    subject, ecf, decay = start.subject, state.ecf, decay_of(start, drawn, minutes)
    gained = base_outside(state) - start.base
    glucose = np.maximum(state.glucose / ecf - subject.glucose_mmol_l, 0.0)
    insulin = state.acts * min(subject.potassium_mmol_l / POTASSIUM_IN_FULL, 1.0)
    kept_up = (
        subject.potassium_mmol_l
        + state.cell_potassium / start.potassium_l
        + POTASSIUM_PER_BASE * gained
        + drawn["potassium_per_mosm"] * _new_osmoles(state, start, decay.used_to)
        + POTASSIUM_PER_GLUCOSE * start.uses * glucose
        - drawn["insulin_potassium"] * insulin
    )
    kept_up = np.maximum(kept_up, LEAST_POTASSIUM)
    moved = (state.potassium - kept_up * ecf) * (1 - np.exp(-minutes * start.clearance / ecf))
    moved = np.maximum(moved, MOST_AT_ONCE * state.sodium)
    give_potassium(state, -moved)
    ratio = 1 + start.buffer_l / ecf
    nearer = 1 - np.exp(-minutes / drawn["buffer_min"] * ratio)
    nearer = nearer * (gained - state.cell_base) / ratio
    state.rest = state.rest + start.buffer_l * nearer
    state.cell_base = state.cell_base + nearer


def _new_osmoles(state: State, start: Start, share: Values) -> Values:
    """Osmolality above the start that cells are not yet used to, mosm/kg; in a step they get used
    to a share of it.
    """
    over = np.maximum(osmoles(state) / state.ecf - start.osmoles_l, 0.0)
    state.used_to = state.used_to + (over - state.used_to) * share
    return np.maximum(over - state.used_to, 0.0)


def share_water(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Water crosses cell walls towards one osmolality; potassium follows what grows outside."""
    outside = osmoles(state)
    settled = np.maximum(state.water * outside / (outside + state.cell_osmoles), start.least)
    gained = (settled - state.ecf) * decay_of(start, drawn, minutes).water_gained
    follows = POTASSIUM_FOLLOWS * start.subject.potassium_mmol_l * gained
    give_potassium(state, np.maximum(follows, MOST_AT_ONCE * state.potassium))
    state.ecf = state.ecf + gained
