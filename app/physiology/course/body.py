"""One person before anything runs: sizes and chemistry, and what of it was assumed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from app.physiology.acid_base import ph_of
from app.physiology.body import plasma_volume_l
from app.physiology.compartments import Sex
from app.physiology.course.baseline.ions import check_charges, chemistry_of
from app.physiology.course.baseline.known import Assumed, BaselineError
from app.physiology.course.sizes import (
    BLOOD_IN_PREGNANCY,
    ECF_SHARE_ADULT,
    PREGNANCY,
    USUAL,
    age_from_weight,
    blood_from,
    blood_l,
    ecf_share,
    is_child,
    kidney_share,
    usual_haematocrit,
    usual_results,
    water_from,
    water_l,
)

ADULT_KG: Final = 70.0
SCANT_ML_KG_H: Final = 0.5
HAEMOGLOBIN_PER_HAEMATOCRIT: Final = 335.0
UREA: Final = 5.0
KIDNEYS: Final = frozenset({"severe_kidney_failure", "anuria", "dialysis", "acute_kidney_injury"})
# Of those on record as having one of these, cells answer less to insulin, or lack it.
DIABETES: Final = frozenset({"diabetes", "diabetic_ketoacidosis", "hyperosmolar_state"})
PERCENT: Final = 100.0

__all__ = ["Assumed", "BaselineError", "Subject", "is_scant", "subject_of"]


@dataclass(frozen=True, slots=True)
class Subject:
    """A person's sizes (kg, L), haematocrit as a fraction, and chemistry before the infusion.

    conditions: all that is on record. usual: results usual at this age, which kidneys defend.
    """

    weight_kg: float
    water_l: float
    plasma_l: float
    haematocrit: float
    sodium_mmol_l: float
    potassium_mmol_l: float
    chloride_mmol_l: float
    bicarbonate_mmol_l: float
    pco2_mmhg: float
    albumin_g_l: float
    phosphate_mmol_l: float
    lactate_mmol_l: float
    glucose_mmol_l: float
    osmolality_mosm_kg: float
    liver_fails: bool
    shock: bool
    kidneys_fail: bool = False
    anuric: bool = False
    diabetes: bool = False
    ecf_of_water: float = ECF_SHARE_ADULT
    kidneys_of_young: float = 1.0
    conditions: frozenset[str] = frozenset()
    usual: Mapping[str, float] = field(default_factory=lambda: USUAL)
    assumed: tuple[Assumed, ...] = ()

    @property
    def ph(self) -> float:
        """pH of the bicarbonate and carbon dioxide."""
        return ph_of(self.bicarbonate_mmol_l, self.pco2_mmhg)


def subject_of(  # noqa: PLR0913 - a person is described by what is known of one
    *,
    weight_kg: float | None,
    age_years: float | None,
    sex: Sex | None,
    height_cm: float | None,
    results: Mapping[str, float],
    conditions: frozenset[str] = frozenset(),
) -> Subject:
    """A person from what is known; what is not is assumed and listed.

    results: project units (haematocrit in %). Raises BaselineError where pH, carbon dioxide and
    bicarbonate contradict each other, or where no anions could balance the charges.
    """
    assumed: list[Assumed] = []
    weight = _weight_kg(weight_kg, age_years, assumed)
    age = _age_years(age_years, weight, assumed)
    pregnant = sex != "male" and not conditions.isdisjoint(PREGNANCY)
    sex = "female" if pregnant else sex
    usual = usual_results(age, pregnant=pregnant)
    chemistry = chemistry_of(results, usual, assumed)
    check_charges(chemistry, usual)
    haematocrit = _haematocrit(results, usual_haematocrit(age, sex, pregnant=pregnant), assumed)
    water = water_l(weight, age, sex, height_cm)
    blood = blood_l(weight, age, sex, height_cm) * (BLOOD_IN_PREGNANCY if pregnant else 1.0)
    more = ", and more in pregnancy" if pregnant else ""
    assumed += [
        Assumed("body water", water, "L", water_from(age, sex, height_cm)),
        Assumed("blood volume", blood, "L", blood_from(age, sex, height_cm) + more),
    ]
    return Subject(
        weight_kg=weight,
        water_l=water,
        plasma_l=plasma_volume_l(blood, haematocrit),
        haematocrit=haematocrit,
        sodium_mmol_l=chemistry["sodium"],
        potassium_mmol_l=chemistry["potassium"],
        chloride_mmol_l=chemistry["chloride"],
        bicarbonate_mmol_l=chemistry["bicarbonate"],
        pco2_mmhg=chemistry["pco2"],
        albumin_g_l=chemistry["albumin"],
        phosphate_mmol_l=chemistry["phosphate"],
        lactate_mmol_l=chemistry["lactate"],
        glucose_mmol_l=chemistry["glucose"],
        osmolality_mosm_kg=_osmolality(results, chemistry),
        **_ills(conditions),
        ecf_of_water=ecf_share(age),
        kidneys_of_young=kidney_share(age),
        conditions=conditions,
        usual=usual,
        assumed=tuple(assumed),
    )


def _weight_kg(given: float | None, age_years: float | None, assumed: list[Assumed]) -> float:
    if given is not None:
        return given
    if is_child(age_years):
        raise BaselineError("weight_kg", None, "a child's weight, kg")
    assumed.append(Assumed("weight_kg", ADULT_KG, "kg", "no weight: an adult of 70 kg"))
    return ADULT_KG


def _age_years(given: float | None, weight_kg: float, assumed: list[Assumed]) -> float | None:
    if given is not None:
        return given
    age = age_from_weight(weight_kg)
    if age is not None:
        why = "no age: a child of this weight, by (kg / 2) - 4"
        assumed.append(Assumed("age_years", age, "years", why))
    return age


def _ills(conditions: frozenset[str]) -> dict[str, bool]:
    """What is on record that the model knows of."""
    return {
        "liver_fails": "severe_liver_failure" in conditions,
        "shock": not conditions.isdisjoint({"shock", "septic_shock", "cardiogenic_shock"}),
        "kidneys_fail": not conditions.isdisjoint(KIDNEYS),
        "anuric": "anuria" in conditions,
        "diabetes": not conditions.isdisjoint(DIABETES),
    }


def _haematocrit(results: Mapping[str, float], usual: float, assumed: list[Assumed]) -> float:
    if "haematocrit" in results:
        return results["haematocrit"] / PERCENT
    if "haemoglobin" in results:
        return results["haemoglobin"] / HAEMOGLOBIN_PER_HAEMATOCRIT
    assumed.append(Assumed("haematocrit", usual * PERCENT, "%", "no haematocrit: a usual value"))
    return usual


def _osmolality(results: Mapping[str, float], chemistry: Mapping[str, float]) -> float:
    measured = results.get("osmolality")
    if measured is not None:
        return measured
    return 2 * chemistry["sodium"] + chemistry["glucose"] + results.get("urea", UREA)


def is_scant(urine_ml_h: float, weight_kg: float | None) -> bool:
    """Urine that says kidneys pass little: told as the loss it is. More than that is as a rule
    made good by what is drunk and runs besides, and is not counted unless asked for.
    """
    return urine_ml_h < SCANT_ML_KG_H * (weight_kg or ADULT_KG)
