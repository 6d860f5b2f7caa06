"""How large the spaces of a body are and what is usual in its plasma: by age, sex, pregnancy."""

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from app.physiology.body import blood_volume_l
from app.physiology.compartments import ADULT_FROM_YEARS, Sex, total_body_water_l

# Share of body water outside cells: of an adult as the model has it, more the younger, by the
# proportions of Friis-Hansen, Pediatrics 1961;28:169 (0.44 of 0.79 L/kg at birth, 0.32 of 0.72 at
# two months, 0.27 of 0.61 at nine months, about 0.22 of 0.62 at four years; from memory).
ECF_SHARE_ADULT: Final = 0.38
ECF_AGES: Final = (0.0, 0.02, 0.17, 1.0, 4.0, 16.0)
ECF_SHARES: Final = (0.56, 0.55, 0.46, 0.45, 0.40, ECF_SHARE_ADULT)
# Blood, L/kg, and haematocrit of children (textbook, from memory).
BLOOD_AGES: Final = (0.0, 0.08, 1.0, 6.0, 16.0)
BLOOD_L_KG_CHILD: Final = (0.085, 0.085, 0.080, 0.075, 0.070)
HAEMATOCRITS: Final = (0.52, 0.45, 0.36, 0.38, 0.40)
BLOOD_L_KG: Final[Mapping[Sex, float]] = {"male": 0.070, "female": 0.065}
HAEMATOCRIT: Final[Mapping[Sex, float]] = {"male": 0.44, "female": 0.40}
# Late pregnancy: a third more blood, and thinner (textbook, from memory).
BLOOD_IN_PREGNANCY: Final = 1.35
HAEMATOCRIT_IN_PREGNANCY: Final = 0.34
PREGNANCY: Final = frozenset({"pregnancy", "pre_eclampsia", "labour"})
# What kidneys pass for each kg, as a share of a young adult's: the newborn's filter little, and
# from forty on a hundredth less each year (textbook, from memory).
KIDNEY_AGES: Final = (0.0, 0.1, 1.0, 40.0, 90.0)
KIDNEY_SHARES: Final = (0.35, 0.5, 1.0, 1.0, 0.5)
# Usual results, mmol/L unless named, from reference ranges of laboratories.
UNITS: Final = {"pco2": "mmHg", "albumin": "g/L", "ph": ""}
USUAL: Final[Mapping[str, float]] = {
    "sodium": 140.0, "potassium": 4.2, "chloride": 104.0, "bicarbonate": 24.5, "pco2": 40.0,
    "albumin": 42.0, "phosphate": 1.1, "lactate": 1.0, "glucose": 5.3,
}  # fmt: skip
# The same in late pregnancy, and of children at some ages, where they differ (from memory).
IN_PREGNANCY: Final = {
    "sodium": 136.0, "potassium": 3.9, "bicarbonate": 20.5, "pco2": 31.0, "albumin": 30.0,
    "glucose": 4.7,
}  # fmt: skip
CHILD_AGES: Final = (0.0, 0.08, 1.0, 5.0, 16.0)
OF_CHILDREN: Final[Mapping[str, tuple[float, ...]]] = {
    "potassium": (4.8, 4.8, 4.4, 4.2, 4.2), "bicarbonate": (21.0, 21.5, 22.0, 23.0, 24.5),
    "pco2": (36.0, 36.0, 36.0, 38.0, 40.0), "albumin": (32.0, 34.0, 39.0, 42.0, 42.0),
    "phosphate": (1.9, 1.9, 1.7, 1.5, 1.1), "glucose": (4.0, 4.5, 5.0, 5.3, 5.3),
}  # fmt: skip
# Below this weight and of no age somebody is a child; its age is (kg / 2) - 4 (common practice).
CHILD_BELOW_KG: Final = 35.0
KG_A_YEAR: Final = 2.0
YEARS_BELOW: Final = 4.0
OLDEST_CHILD: Final = 15.0


def age_from_weight(weight_kg: float) -> float | None:
    """Years of a child of this weight; None where it may be an adult's."""
    if weight_kg >= CHILD_BELOW_KG:
        return None
    return min(max(weight_kg / KG_A_YEAR - YEARS_BELOW, 0.0), OLDEST_CHILD)


def is_child(age_years: float | None) -> bool:
    """True under 16 years; an age not known is an adult's."""
    return age_years is not None and age_years < ADULT_FROM_YEARS


def water_l(
    weight_kg: float, age_years: float | None, sex: Sex | None, height_cm: float | None
) -> float:
    """Body water, L; between a man's and a woman's where sex is not known."""
    return _midway(
        sex,
        lambda one: total_body_water_l(
            weight_kg=weight_kg, age_years=age_years, sex=one, height_cm=height_cm
        ),
    )


def _midway(sex: Sex | None, figure: Callable[[Sex], float]) -> float:
    """The figure of this sex; midway between a man's and a woman's where it is not known."""
    if sex is not None:
        return figure(sex)
    return (figure("male") + figure("female")) / 2


def ecf_share(age_years: float | None) -> float:
    """What of body water is outside cells."""
    if not is_child(age_years):
        return ECF_SHARE_ADULT
    return float(np.interp(age_years or 0.0, ECF_AGES, ECF_SHARES))


def kidney_share(age_years: float | None) -> float:
    """What healthy kidneys of this age pass, as a share of a young adult's."""
    return 1.0 if age_years is None else float(np.interp(age_years, KIDNEY_AGES, KIDNEY_SHARES))


def blood_l(
    weight_kg: float, age_years: float | None, sex: Sex | None, height_cm: float | None
) -> float:
    """Blood, L: by height and weight where they are known of an adult, else a share of weight."""
    if is_child(age_years):
        return float(np.interp(age_years or 0.0, BLOOD_AGES, BLOOD_L_KG_CHILD)) * weight_kg
    if height_cm is None:
        return _midway(sex, BLOOD_L_KG.__getitem__) * weight_kg
    height = height_cm
    return _midway(sex, lambda one: blood_volume_l(sex=one, height_cm=height, weight_kg=weight_kg))


def usual_haematocrit(age_years: float | None, sex: Sex | None, *, pregnant: bool) -> float:
    """Haematocrit as a fraction where nobody measured it."""
    if is_child(age_years):
        return float(np.interp(age_years or 0.0, BLOOD_AGES, HAEMATOCRITS))
    return HAEMATOCRIT_IN_PREGNANCY if pregnant else _midway(sex, HAEMATOCRIT.__getitem__)


def water_from(age_years: float | None, sex: Sex | None, height_cm: float | None) -> str:
    """In words, what a body water was worked out from."""
    if is_child(age_years):
        return "a share of weight, for the age"
    known = age_years is not None and height_cm is not None
    how = "by age, height and weight" if known else "a share of weight"
    given = {"age": age_years, "sex": sex, "height": height_cm}
    return _lacking(how, [name for name, value in given.items() if value is None], sex)


def blood_from(age_years: float | None, sex: Sex | None, height_cm: float | None) -> str:
    """In words, what a blood volume was worked out from."""
    if is_child(age_years):
        return "a share of weight, for the age"
    how = "a share of weight" if height_cm is None else "by height and weight"
    given = {"sex": sex, "height": height_cm}
    return _lacking(how, [name for name, value in given.items() if value is None], sex)


def _lacking(how: str, lacks: list[str], sex: Sex | None) -> str:
    lack = f"no {' or '.join(lacks)}: " if lacks else ""
    return f"{lack}{how}{', midway between a man and a woman' if sex is None else ''}"


def usual_results(age_years: float | None, *, pregnant: bool) -> dict[str, float]:
    """Usual plasma of such a person, by name; units: mmol/L, or as UNITS says."""
    if is_child(age_years):
        own = {
            name: float(np.interp(age_years or 0.0, CHILD_AGES, values))
            for name, values in OF_CHILDREN.items()
        }
        return {**USUAL, **own}
    return {**USUAL, **IN_PREGNANCY} if pregnant else dict(USUAL)
