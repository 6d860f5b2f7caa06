"""One person before anything runs: sizes and chemistry, and what of it was assumed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.physiology.acid_base import CO2_SOLUBILITY, PK, bicarbonate_of, ph_of
from app.physiology.body import blood_volume_l, plasma_volume_l
from app.physiology.compartments import Sex, total_body_water_l

ADULT_FROM_YEARS: Final = 16.0
ADULT_KG: Final = 70.0
SCANT_ML_KG_H: Final = 0.5
# Usual results, mmol/L unless named, from reference ranges of laboratories.
USUAL: Final[Mapping[str, tuple[float, str]]] = {
    "sodium": (140.0, "mmol/L"), "potassium": (4.2, "mmol/L"), "chloride": (104.0, "mmol/L"),
    "bicarbonate": (24.5, "mmol/L"), "pco2": (40.0, "mmHg"), "albumin": (42.0, "g/L"),
    "phosphate": (1.1, "mmol/L"), "lactate": (1.0, "mmol/L"), "glucose": (5.3, "mmol/L"),
}  # fmt: skip
HAEMATOCRIT: Final = {"male": 0.44, "female": 0.40}
HAEMATOCRIT_CHILD: Final = 0.36
HAEMOGLOBIN_PER_HAEMATOCRIT: Final = 335.0
BLOOD_L_KG: Final = {"male": 0.070, "female": 0.065}
BLOOD_CHILD_L_KG: Final = 0.078
UREA: Final = 5.0
# pH, carbon dioxide and bicarbonate of one gas may differ by this share and be averaged.
GAS_WITHIN: Final = 0.15
# A remainder of anions outside this cannot be: a result is wrong, or its unit.
LEAST_REST: Final = -12.0
MOST_REST: Final = 45.0
KIDNEYS: Final = frozenset({"severe_kidney_failure", "anuria", "dialysis", "acute_kidney_injury"})
PERCENT: Final = 100.0


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
    weight = weight_kg
    if weight is None:
        child = age_years is not None and age_years < ADULT_FROM_YEARS
        if child:
            raise BaselineError("weight_kg", None, "a child's weight, kg")
        weight = ADULT_KG
        assumed.append(Assumed("weight_kg", weight, "kg", "no weight: an adult of 70 kg"))
    water = _water_l(weight, age_years, sex, height_cm)
    chemistry = _chemistry(results, assumed)
    haematocrit = _haematocrit(results, age_years, sex, assumed)
    blood = _blood_l(weight, age_years, sex, height_cm)
    subject = Subject(
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
        liver_fails="severe_liver_failure" in conditions,
        shock=not conditions.isdisjoint({"shock", "septic_shock", "cardiogenic_shock"}),
        kidneys_fail=not conditions.isdisjoint(KIDNEYS),
        assumed=tuple(assumed),
    )
    _check_charges(subject)
    return subject


def _water_l(
    weight_kg: float, age_years: float | None, sex: Sex | None, height_cm: float | None
) -> float:
    """Body water, L; between a man's and a woman's where sex is not known."""
    sexes: tuple[Sex, ...] = ("male", "female") if sex is None else (sex,)
    litres = [
        total_body_water_l(weight_kg=weight_kg, age_years=age_years, sex=one, height_cm=height_cm)
        for one in sexes
    ]
    return sum(litres) / len(litres)


def _chemistry(results: Mapping[str, float], assumed: list[Assumed]) -> dict[str, float]:
    gas = _gas(results)
    chemistry: dict[str, float] = {}
    for name, (usual, unit) in USUAL.items():
        value = gas.get(name, results.get(name))
        if value is None:
            value = usual
            assumed.append(Assumed(name, usual, unit, f"no {name}: a usual value"))
        chemistry[name] = value
    return chemistry


def _gas(results: Mapping[str, float]) -> dict[str, float]:
    """Carbon dioxide and bicarbonate that fit the pH; the third worked out from the other two."""
    ph, pco2, bicarbonate = (results.get(n) for n in ("ph", "pco2", "bicarbonate"))
    if ph is None:
        return {}
    if pco2 is None:
        base = USUAL["bicarbonate"][0] if bicarbonate is None else bicarbonate
        return {"bicarbonate": base, "pco2": base / (CO2_SOLUBILITY * 10 ** (ph - PK))}
    worked = bicarbonate_of(ph, pco2)
    if bicarbonate is not None and abs(worked - bicarbonate) > GAS_WITHIN * bicarbonate:
        told = f"pH {ph:g}, pCO2 {pco2:g} mmHg, bicarbonate {bicarbonate:g} mmol/L"
        raise BaselineError(
            "patient.observations", told, f"bicarbonate about {worked:.1f} mmol/L with this gas"
        )
    return {"bicarbonate": worked, "pco2": pco2}


def _haematocrit(
    results: Mapping[str, float], age_years: float | None, sex: Sex | None, assumed: list[Assumed]
) -> float:
    if "haematocrit" in results:
        return results["haematocrit"] / PERCENT
    if "haemoglobin" in results:
        return results["haemoglobin"] / HAEMOGLOBIN_PER_HAEMATOCRIT
    child = age_years is not None and age_years < ADULT_FROM_YEARS
    usual = HAEMATOCRIT_CHILD if child else HAEMATOCRIT[sex or "female"]
    assumed.append(Assumed("haematocrit", usual * PERCENT, "%", "no haematocrit: a usual value"))
    return usual


def _blood_l(
    weight_kg: float, age_years: float | None, sex: Sex | None, height_cm: float | None
) -> float:
    if age_years is not None and age_years < ADULT_FROM_YEARS:
        return BLOOD_CHILD_L_KG * weight_kg
    if sex is not None and height_cm is not None:
        return blood_volume_l(sex=sex, height_cm=height_cm, weight_kg=weight_kg)
    return BLOOD_L_KG[sex or "female"] * weight_kg


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
        raise BaselineError("patient.observations", told, accepted)


def is_scant(urine_ml_h: float, weight_kg: float | None) -> bool:
    """Urine that says kidneys pass little: told as the loss it is. More than that is as a rule
    made good by what is drunk and runs besides, and is not counted unless asked for.
    """
    return urine_ml_h < SCANT_ML_KG_H * (weight_kg or ADULT_KG)
