"""Water that a fluid brings beside its salt, and what plain water does to a solution."""

from typing import Final

from app.chemistry.composition import Composition
from app.chemistry.mixing import mixed

# Plasma sodium = 1.03 x (exchangeable Na + K) / body water - 23.8, mmol/L: Edelman 1958 in the
# plasma form of Nguyen and Kurtz (Am J Physiol Renal 2005;288:F1, abstract seen).
EDELMAN_SLOPE: Final = 1.03
EDELMAN_INTERCEPT_MMOL_L: Final = 23.8


def electrolyte_free_water_l(
    composition: Composition, volume_l: float, plasma_sodium_mmol_l: float
) -> float:
    """Litres of electrolyte-free water in volume_l, the simple form; below zero: it takes water.

    volume x (1 - (Na + K) of the fluid / plasma Na), all mmol/L. Rose, Am J Med 1986;81:1033,
    from memory. Says nothing of urine.
    """
    return volume_l * (1 - composition.cation_salt_mmol_l / plasma_sodium_mmol_l)


def electrolyte_free_water_edelman_l(
    composition: Composition, volume_l: float, plasma_sodium_mmol_l: float
) -> float:
    """Litres of electrolyte-free water in volume_l, in keeping with Edelman's line.

    volume x (1 - 1.03 (Na + K) / (plasma Na + 23.8)), mmol/L. A fluid whose Na + K is
    0.97 x plasma Na + 23.1 holds none. Nguyen and Kurtz 2005, abstract seen.
    """
    salt = EDELMAN_SLOPE * composition.cation_salt_mmol_l
    return volume_l * (1 - salt / (plasma_sodium_mmol_l + EDELMAN_INTERCEPT_MMOL_L))


def diluted(composition: Composition, volume_l: float, water_l: float) -> Composition:
    """Composition per litre after plain water is added to volume_l; volumes add."""
    return mixed(composition, volume_l, Composition(), water_l)
