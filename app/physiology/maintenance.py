"""What a day's water and salt should be."""

from dataclasses import dataclass
from typing import Final

FIRST_KG: Final = 10.0
SECOND_KG: Final = 20.0

# Term newborns, mL/kg/day by day of life (low, high): NICE NG29 (2015, updated 2020), from memory.
NEWBORN_ML_KG_DAY: Final = ((50.0, 60.0), (70.0, 80.0), (80.0, 100.0), (100.0, 120.0))
NEWBORN_FROM_DAY_5_ML_KG_DAY: Final = (120.0, 150.0)
LAST_NEWBORN_DAY: Final = 28


@dataclass(frozen=True, slots=True)
class DailyNeed:
    """An adult's need for a day: water as a range, salts as one figure, glucose as a range."""

    water_low_ml: float
    water_high_ml: float
    sodium_mmol: float
    potassium_mmol: float
    chloride_mmol: float
    glucose_low_g: float = 50.0
    glucose_high_g: float = 100.0


def maintenance_ml_day(weight_kg: float) -> float:
    """Water for a day, mL: 100 mL/kg to 10 kg, 50 for the next 10, 20 above.

    Holliday and Segar, Pediatrics 1957;19:823, from memory. Not for newborns; for large children
    cap at about 2,500 mL (male) or 2,000 mL (female).
    """
    return _stepped(weight_kg, 100, 50, 20)


def maintenance_4_2_1_ml_h(weight_kg: float) -> float:
    """Water for an hour, mL: 4 mL/kg to 10 kg, 2 for the next 10, 1 above.

    The bedside form of the same rule; it differs from the daily form by up to 4%.
    """
    return _stepped(weight_kg, 4, 2, 1)


def _stepped(weight_kg: float, first: float, second: float, above: float) -> float:
    return (
        first * min(weight_kg, FIRST_KG)
        + second * min(max(weight_kg - FIRST_KG, 0), SECOND_KG - FIRST_KG)
        + above * max(weight_kg - SECOND_KG, 0)
    )


def newborn_ml_kg_day(day_of_life: int) -> tuple[float, float]:
    """Lowest and highest water for a term newborn, mL/kg/day; the day of birth is day 1.

    Raises ValueError outside days 1 to 28.
    """
    if not 1 <= day_of_life <= LAST_NEWBORN_DAY:
        raise ValueError("day of life must be 1 to 28")
    if day_of_life <= len(NEWBORN_ML_KG_DAY):
        return NEWBORN_ML_KG_DAY[day_of_life - 1]
    return NEWBORN_FROM_DAY_5_ML_KG_DAY


def adult_need(weight_kg: float, *, frail: bool = False) -> DailyNeed:
    """An adult's routine need for a day: water 25-30 mL/kg, about 1 mmol/kg of each salt.

    NICE CG174 (2013), quoted in a journal table (seen). frail: 20-25 mL/kg for the frail and for
    kidney or heart failure (from memory). Use ideal weight when obese.
    """
    low, high = (20.0, 25.0) if frail else (25.0, 30.0)
    return DailyNeed(low * weight_kg, high * weight_kg, weight_kg, weight_kg, weight_kg)
