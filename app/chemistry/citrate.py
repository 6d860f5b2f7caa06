"""Citrate in donated blood, and the calcium it meets in a line."""

from typing import Final

from app.chemistry.salts import salt_mmol_from_g

CITRIC_ACID_G_MOL: Final = 192.12
ML_PER_L: Final = 1000.0


def citrate_mmol_l(*, sodium_citrate_g_l: float, citric_acid_g_l: float) -> float:
    """Citrate of an anticoagulant, mmol/L, from trisodium citrate dihydrate and anhydrous acid."""
    acid = citric_acid_g_l * ML_PER_L / CITRIC_ACID_G_MOL
    return salt_mmol_from_g("sodium_citrate", sodium_citrate_g_l) + acid


def citrate_mmol(*, volume_ml: float, citrate_mmol_l: float) -> float:
    """Citrate that goes into a donation with its anticoagulant, mmol."""
    return volume_ml * citrate_mmol_l / ML_PER_L


def fluid_to_ratio_l(*, citrate_mmol: float, ratio: float, calcium_mmol_l: float) -> float:
    """Volume of a fluid with calcium that brings citrate to calcium down to a ratio, L."""
    return citrate_mmol / ratio / calcium_mmol_l
