"""Where water is, and where a fluid goes."""

from dataclasses import dataclass
from typing import Final, Literal

Sex = Literal["female", "male"]

ELDERLY_FROM_YEARS: Final = 65.0
ADULT_FROM_YEARS: Final = 16.0
INFANT_TO_YEARS: Final = 1.0
NEWBORN_TO_YEARS: Final = 28 / 365.25

# Total body water as a share of weight, L/kg: Adrogue and Madias, NEJM 2000;342:1581 (adults and
# children), textbook values for infants. From memory.
WATER_MAN: Final = 0.6
WATER_WOMAN: Final = 0.5
WATER_ELDERLY_MAN: Final = 0.5
WATER_ELDERLY_WOMAN: Final = 0.45
WATER_CHILD: Final = 0.6
WATER_INFANT: Final = 0.7
WATER_NEWBORN: Final = 0.75

# Shares of an equilibrated litre: cells hold two thirds of body water, plasma a quarter of the
# rest (textbook; some use a fifth).
CELLS_OF_WATER: Final = 2 / 3
PLASMA_OF_EXTRACELLULAR: Final = 1 / 4


@dataclass(frozen=True, slots=True)
class Spread:
    """Where a litre has gone once it is spread, L (may be negative where water leaves)."""

    plasma_l: float
    interstitial_l: float
    cells_l: float


def watson_l(*, sex: Sex, age_years: float, height_cm: float, weight_kg: float) -> float:
    """Total body water of an adult, L, from age, height and weight.

    Watson, Watson, Batt, Am J Clin Nutr 1980;33:27, from memory. Near-normal hydration; reads
    oedema too low. Better than a fixed share in obesity.
    """
    if sex == "male":
        return 2.447 - 0.09516 * age_years + 0.1074 * height_cm + 0.3362 * weight_kg
    return -2.097 + 0.1069 * height_cm + 0.2466 * weight_kg


def water_share(age_years: float | None, sex: Sex | None) -> float:
    """Total body water as a share of weight, L/kg.

    An adult whose sex is not known is taken at 0.5, the share that forecasts the larger change.
    """
    if age_years is not None and age_years < ADULT_FROM_YEARS:
        return _child_share(age_years)
    elderly = age_years is not None and age_years >= ELDERLY_FROM_YEARS
    if sex == "male":
        return WATER_ELDERLY_MAN if elderly else WATER_MAN
    if sex == "female":
        return WATER_ELDERLY_WOMAN if elderly else WATER_WOMAN
    return WATER_WOMAN


def _child_share(age_years: float) -> float:
    if age_years <= NEWBORN_TO_YEARS:
        return WATER_NEWBORN
    return WATER_INFANT if age_years < INFANT_TO_YEARS else WATER_CHILD


def total_body_water_l(
    *, weight_kg: float, age_years: float | None, sex: Sex | None, height_cm: float | None
) -> float:
    """Total body water, L: Watson for an adult with sex, age and height, else a share of weight."""
    adult = age_years is not None and age_years >= ADULT_FROM_YEARS
    if adult and sex is not None and height_cm is not None and age_years is not None:
        return watson_l(sex=sex, age_years=age_years, height_cm=height_cm, weight_kg=weight_kg)
    return water_share(age_years, sex) * weight_kg


def spread_crystalloid(volume_l: float, electrolyte_free_water_l: float) -> Spread:
    """Where a crystalloid is at equilibrium, from its volume and its free water, both L.

    The salt part stays outside cells, the free water goes everywhere. Far more is still in
    plasma in the first half hour, and leaky vessels change all (textbook shares).
    """
    salt_l = volume_l - electrolyte_free_water_l
    outside_l = salt_l + electrolyte_free_water_l * (1 - CELLS_OF_WATER)
    plasma_l = outside_l * PLASMA_OF_EXTRACELLULAR
    return Spread(plasma_l, outside_l - plasma_l, electrolyte_free_water_l * CELLS_OF_WATER)


def spread_colloid(volume_l: float) -> Spread:
    """Where an iso-oncotic colloid is at first, L: all in plasma."""
    return Spread(volume_l, 0.0, 0.0)
