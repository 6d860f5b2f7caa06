"""What a day's water and salt should be."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.amounts import GLUCOSE_G, SALT_MMOL_KG, WATER_ML_KG

FIRST_KG: Final = 10.0
SECOND_KG: Final = 20.0
HOURS_PER_DAY: Final = 24.0

# Term newborns, mL/kg/day by day of life (low, high): NICE NG29 (2015, updated 2020), from memory.
NEWBORN_ML_KG_DAY: Final = ((50.0, 60.0), (70.0, 80.0), (80.0, 100.0), (100.0, 120.0))
NEWBORN_FROM_DAY_5_ML_KG_DAY: Final = (120.0, 150.0)
LAST_NEWBORN_DAY: Final = 28
# For each 100 mL of a child's maintenance water, mmol (low, high): Holliday and Segar 1957 give 3
# of sodium, 2 of potassium and 2 of chloride; the ranges are common practice. All from memory.
CHILD_SODIUM_MMOL_100_ML: Final = (2.0, 4.0)
CHILD_POTASSIUM_MMOL_100_ML: Final = (1.0, 2.0)
ML_OF_CHILD_SALTS: Final = 100.0
# Newborns, mmol/kg/day (low, high), none until the diuresis of about day 3: neonatal textbooks,
# from memory. Glucose 4 to 8 mg/kg/min.
NEWBORN_SALTS_FROM_DAY: Final = 3
NEWBORN_SODIUM_MMOL_KG_DAY: Final = (2.0, 4.0)
NEWBORN_POTASSIUM_MMOL_KG_DAY: Final = (1.0, 3.0)
NEWBORN_GLUCOSE_MG_KG_MIN: Final = (4.0, 8.0)
# NICE CG174 1.4.3, from memory.
FRAIL_WATER_ML_KG: Final = (20.0, 25.0)
G_DAY_PER_MG_MIN: Final = 1.44
Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class AdultNeed:
    """An adult's need for a day: water as a range, salts as one figure, glucose as a range."""

    water_low_ml: float
    water_high_ml: float
    sodium_mmol: float
    potassium_mmol: float
    chloride_mmol: float
    glucose_low_g: float = GLUCOSE_G[0]
    glucose_high_g: float = GLUCOSE_G[1]


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


def adult_need(weight_kg: float, *, frail: bool = False) -> AdultNeed:
    """An adult's routine need for a day: water 25-30 mL/kg, about 1 mmol/kg of each salt.

    NICE CG174 (2013), quoted in a journal table (seen). frail: 20-25 mL/kg for the frail and for
    kidney or heart failure (from memory). Use ideal weight when obese.
    """
    low, high = FRAIL_WATER_ML_KG if frail else WATER_ML_KG
    salt = SALT_MMOL_KG[0] * weight_kg
    return AdultNeed(low * weight_kg, high * weight_kg, salt, salt, salt)


@dataclass(frozen=True, slots=True)
class ChildNeed:
    """A child's need for a day: each as lowest and highest; glucose None where none is set."""

    water_ml: Range
    sodium_mmol: Range
    potassium_mmol: Range
    chloride_mmol: Range
    glucose_g: Range | None = None


def child_need(weight_kg: float) -> ChildNeed:
    """A child's routine need from 28 days on: water by 4-2-1, salts for each 100 mL of it.

    Up to 10 kg that is 2 to 4 mmol/kg of sodium; it comes down to an adult's 1 mmol/kg.
    """
    water = maintenance_4_2_1_ml_h(weight_kg) * HOURS_PER_DAY
    parts = water / ML_OF_CHILD_SALTS
    sodium = _times(CHILD_SODIUM_MMOL_100_ML, parts)
    potassium = _times(CHILD_POTASSIUM_MMOL_100_ML, parts)
    return ChildNeed((water, water), sodium, potassium, sodium)


def newborn_need(weight_kg: float, day_of_life: int) -> ChildNeed:
    """A term newborn's need; raises ValueError outside days 1 to 28.

    Water by the day, salts from the diuresis on, glucose 4 to 8 mg/kg/min.
    """
    salts = weight_kg if day_of_life >= NEWBORN_SALTS_FROM_DAY else 0.0
    sodium = _times(NEWBORN_SODIUM_MMOL_KG_DAY, salts)
    return ChildNeed(
        _times(newborn_ml_kg_day(day_of_life), weight_kg),
        sodium,
        _times(NEWBORN_POTASSIUM_MMOL_KG_DAY, salts),
        sodium,
        _times(NEWBORN_GLUCOSE_MG_KG_MIN, weight_kg * G_DAY_PER_MG_MIN),
    )


def _times(low_high: Range, factor: float) -> Range:
    return low_high[0] * factor, low_high[1] * factor
