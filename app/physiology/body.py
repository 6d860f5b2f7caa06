"""Size of a body: surface, ideal weight, blood."""

from math import sqrt
from typing import Final, Literal

Sex = Literal["female", "male"]
FIVE_FEET_CM: Final = 152.4
ADJUSTED_SHARE: Final = 0.4


def surface_m2(height_cm: float, weight_kg: float) -> float:
    """Body surface, m2 (Mosteller, NEJM 1987;317:1098, from memory)."""
    return sqrt(height_cm * weight_kg / 3600)


def ideal_weight_kg(height_cm: float, sex: Sex) -> float:
    """Ideal weight of an adult, kg (Devine, from memory). ValueError under 152.4 cm."""
    if height_cm < FIVE_FEET_CM:
        raise ValueError("ideal weight is defined from 152.4 cm")
    return (50.0 if sex == "male" else 45.5) + 0.91 * (height_cm - FIVE_FEET_CM)


def adjusted_weight_kg(ideal_kg: float, actual_kg: float) -> float:
    """Ideal weight plus 40% of what is above it, kg."""
    return ideal_kg + ADJUSTED_SHARE * (actual_kg - ideal_kg)


def blood_volume_l(*, sex: Sex, height_cm: float, weight_kg: float) -> float:
    """Blood volume of an adult, L (Nadler, Surgery 1962;51:224, from memory)."""
    metres = height_cm / 100
    if sex == "male":
        return 0.3669 * metres**3 + 0.03219 * weight_kg + 0.6041
    return 0.3561 * metres**3 + 0.03308 * weight_kg + 0.1833


def plasma_volume_l(blood_l: float, haematocrit: float) -> float:
    """Plasma volume, L, from blood volume and haematocrit as a fraction."""
    return blood_l * (1 - haematocrit)
