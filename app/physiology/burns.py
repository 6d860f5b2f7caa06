"""Fluid for a burn in its first day."""

from dataclasses import dataclass
from typing import Final

PARKLAND_ML_KG_PERCENT: Final = 4.0
FIRST_PHASE_H: Final = 8.0
SECOND_PHASE_H: Final = 16.0


@dataclass(frozen=True, slots=True)
class BurnPlan:
    """Volume for 24 h from the burn, and the rate of each phase from now, mL and mL/h."""

    total_ml: float
    first_rate_ml_h: float
    second_rate_ml_h: float


def parkland(
    *,
    weight_kg: float,
    burn_percent: float,
    hours_since_burn: float = 0.0,
    ml_kg_percent: float = PARKLAND_ML_KG_PERCENT,
) -> BurnPlan:
    """Starting plan for a burn: half in the first 8 h from the burn, half in the next 16.

    Baxter 1968, from memory; some bodies start adults at 2 mL/kg/%. Titrate to urine. Children
    need maintenance besides. ValueError once the first 8 h are over.
    """
    if not 0 <= hours_since_burn < FIRST_PHASE_H:
        raise ValueError("hours since the burn must be under 8")
    total = ml_kg_percent * weight_kg * burn_percent
    half = total / 2
    return BurnPlan(total, half / (FIRST_PHASE_H - hours_since_burn), half / SECOND_PHASE_H)
