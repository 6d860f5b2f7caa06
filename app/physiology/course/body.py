"""One person before anything runs: sizes and chemistry, and what of it was assumed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.physiology.acid_base import CO2_SOLUBILITY, PK, bicarbonate_of, ph_of
from app.physiology.body import plasma_volume_l
from app.physiology.compartments import Sex
from app.physiology.course.sizes import (
    BLOOD_IN_PREGNANCY,
    ECF_SHARE_ADULT,
    PREGNANCY,
    UNITS,
    age_from_weight,
    blood_l,
    ecf_share,
    is_child,
    usual_haematocrit,
    usual_results,
    water_l,
)

ADULT_KG: Final = 70.0
SCANT_ML_KG_H: Final = 0.5
HAEMOGLOBIN_PER_HAEMATOCRIT: Final = 335.0
UREA: Final = 5.0
# pH, carbon dioxide and bicarbonate of one gas may differ by this share and be averaged.
GAS_WITHIN: Final = 0.15
# A remainder of anions outside this cannot be: a result is wrong, or its unit.
LEAST_REST: Final = -12.0
MOST_REST: Final = 45.0
KIDNEYS: Final = frozenset({"severe_kidney_failure", "anuria", "dialysis", "acute_kidney_injury"})
# Of those on record as having one of these, cells answer less to insulin, or lack it.
DIABETES: Final = frozenset({"diabetes", "diabetic_ketoacidosis", "hyperosmolar_state"})
PERCENT: Final = 100.0
MMOL_L: Final = "mmol/L"
OBSERVATIONS: Final = "patient.observations"
# Nobody alive has less or more carbon dioxide, mmHg (common practice, no source).
LEAST_PCO2: Final = 6.0
MOST_PCO2: Final = 200.0
# A bicarbonate that the gas moves by more than this is told.
WORTH_SAYING: Final = 0.5


class BaselineError(ValueError):
    """A starting value that cannot be with the others."""

    def __init__(self, field: str, value: object, accepted: str) -> None:
        super().__init__(f"{field}: {value}; accepted: {accepted}")
        self.field = field
        self.value = value
        self.accepted = accepted


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value that nobody gave, and why this one was taken."""

    name: str
    value: float
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class Subject:
    """A person's sizes (kg, L), haematocrit as a fraction, and chemistry before the infusion."""

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
    chemistry = _chemistry(results, usual_results(age, pregnant=pregnant), assumed)
    haematocrit = _haematocrit(results, usual_haematocrit(age, sex, pregnant=pregnant), assumed)
    blood = blood_l(weight, age, sex, height_cm) * (BLOOD_IN_PREGNANCY if pregnant else 1.0)
    subject = Subject(
        weight_kg=weight,
        water_l=water_l(weight, age, sex, height_cm),
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
        assumed=tuple(assumed),
    )
    _check_charges(subject)
    return subject


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


def _chemistry(
    results: Mapping[str, float], usual: Mapping[str, float], assumed: list[Assumed]
) -> dict[str, float]:
    """Every result a course starts from: of the gas, as measured, or as usual."""
    chemistry = {**usual, **{name: results[name] for name in usual if name in results}}
    gas = _gas(results, usual)
    for name, (value, why) in gas.items():
        if why:
            assumed.append(Assumed(name, value, UNITS.get(name, MMOL_L), why))
        chemistry[name] = value
    for name, usually in usual.items():
        if name in results or name in gas:
            continue
        value, why = usually, f"no {name}: a usual value"
        if name == "chloride" and chemistry["sodium"] != usual["sodium"]:
            value = max(usually + chemistry["sodium"] - usual["sodium"], 0.0)
            why = "no chloride: a usual value, moved as far as sodium is from usual"
        assumed.append(Assumed(name, value, UNITS.get(name, MMOL_L), why))
        chemistry[name] = value
    return chemistry


def _gas(results: Mapping[str, float], usual: Mapping[str, float]) -> dict[str, tuple[float, str]]:
    """Carbon dioxide and bicarbonate that fit the pH, and why one is not the result itself."""
    ph, pco2, bicarbonate = (results.get(n) for n in ("ph", "pco2", "bicarbonate"))
    if ph is None:
        return {}
    if pco2 is None and bicarbonate is not None:
        worked = bicarbonate / (CO2_SOLUBILITY * 10 ** (ph - PK))
        if not LEAST_PCO2 <= worked <= MOST_PCO2:
            told = f"pH {ph:g} with bicarbonate {bicarbonate:g} mmol/L"
            raise BaselineError(
                OBSERVATIONS, told,
                f"figures with a pCO2 of {LEAST_PCO2:g} to {MOST_PCO2:g} mmHg, not {worked:.0f}",
            )  # fmt: skip
        return {"pco2": (worked, "no pCO2: worked out from pH and bicarbonate")}
    if pco2 is None:
        return _gas_of_ph_alone(ph, usual)
    worked = bicarbonate_of(ph, pco2)
    if bicarbonate is None:
        return {"bicarbonate": (worked, "no bicarbonate: worked out from pH and pCO2")}
    if abs(worked - bicarbonate) > GAS_WITHIN * bicarbonate:
        told = f"pH {ph:g}, pCO2 {pco2:g} mmHg, bicarbonate {bicarbonate:g} mmol/L"
        raise BaselineError(
            OBSERVATIONS, told, f"bicarbonate about {worked:.1f} mmol/L with this gas"
        )
    differs = abs(worked - bicarbonate) > WORTH_SAYING
    why = f"worked out from pH and pCO2; the result says {bicarbonate:g}" if differs else ""
    return {"bicarbonate": (worked, why)}


def _gas_of_ph_alone(ph: float, usual: Mapping[str, float]) -> dict[str, tuple[float, str]]:
    """Both as far from usual: whether breathing or metabolism moved the pH is not known."""
    both = 10 ** ((ph - ph_of(usual["bicarbonate"], usual["pco2"])) / 2)
    why = "only a pH: breathing and metabolism are taken to have moved it alike"
    return {
        "bicarbonate": (usual["bicarbonate"] * both, why), "pco2": (usual["pco2"] / both, why),
    }  # fmt: skip


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


def _check_charges(subject: Subject) -> None:
    """The anions nobody measured make up the rest; there is a least and a most of them."""
    rest = (
        subject.sodium_mmol_l
        + subject.potassium_mmol_l
        - subject.chloride_mmol_l
        - subject.bicarbonate_mmol_l
        - subject.lactate_mmol_l
    )
    if not LEAST_REST <= rest <= MOST_REST:
        told = (
            f"sodium {subject.sodium_mmol_l:g}, chloride {subject.chloride_mmol_l:g}, "
            f"bicarbonate {subject.bicarbonate_mmol_l:.3g} mmol/L"
        )
        accepted = f"a gap of {LEAST_REST:g} to {MOST_REST:g} mmol/L, not {rest:.0f}"
        raise BaselineError(OBSERVATIONS, told, accepted)


def is_scant(urine_ml_h: float, weight_kg: float | None) -> bool:
    """Urine that says kidneys pass little: told as the loss it is. More than that is as a rule
    made good by what is drunk and runs besides, and is not counted unless asked for.
    """
    return urine_ml_h < SCANT_ML_KG_H * (weight_kg or ADULT_KG)
