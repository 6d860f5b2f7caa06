"""Facts several families judge by: failing kidneys, purpose.

Families never import each other; what two of them need stands here once.
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final, Literal

from app.cautions.phrases import number
from app.cautions.rule import Level
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot
from app.physiology.kidney import egfr_bedside_child, egfr_ckd_epi_2021

EGFR_FAILING: Final = 30.0
# An eGFR under 30 and a creatinine that means 60 or more, of one day, cannot both be right.
EGFR_GOOD: Final = 60.0
ONE_DAY: Final = timedelta(days=1)
OLIGURIA_ML_KG_H: Final = 0.5
# Creatinine of stage 3 acute kidney injury whatever it was before (KDIGO 2012, from memory).
CREATININE_FAILING_UMOL_L: Final = 354.0
# The shortest child of one year and the tallest of fifteen; common knowledge, no source.
CHILD_HEIGHTS_CM: Final = (68.0, 195.0)
SEXES: Final[tuple[Literal["female"], Literal["male"]]] = ("female", "male")
CARRIER_ML_H: Final = 30.0
# Filtration of an infant is low by nature, and the children's formula does not hold.
CHILD_FORMULA_FROM_YEARS: Final = 1.0
CALCIUMS: Final = ("calcium_ionised", "calcium_total")
FAILING_CONDITIONS: Final = (
    "dialysis", "anuria", "oliguria", "severe_kidney_failure",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fact:
    """Whether something holds, and the patient's figures that say so.

    in_doubt: the figures contradict each other, and the worse was taken for true.
    """

    holds: bool
    because: str
    in_doubt: bool = False


def estimated_egfr(patient: Snapshot) -> tuple[float, str] | None:
    """Filtration, mL/min/1.73 m2, as reported or worked out from creatinine; None if neither."""
    reported = patient.value_or_none("egfr")
    if reported is not None:
        return reported, f"eGFR {number(reported)} mL/min/1.73 m²"
    creatinine = patient.value_or_none("creatinine")
    if creatinine is None or patient.age_years is None:
        return None
    if patient.is_child():
        if patient.height_cm is None or patient.age_years < CHILD_FORMULA_FROM_YEARS:
            return None
        egfr = egfr_bedside_child(creatinine, patient.height_cm)
    elif patient.sex is None:
        return None
    else:
        egfr = egfr_ckd_epi_2021(creatinine, patient.age_years, patient.sex)
    return egfr, f"creatinine {number(creatinine)} µmol/L, eGFR about {egfr:.0f}"


def kidneys_failing(patient: Snapshot) -> Fact:
    """Kidneys that cannot excrete a potassium or water load.

    Holds on dialysis, anuria, stage 3 acute injury, stage 4-5 disease, eGFR under 30, creatinine
    of 354 µmol/L or more, or urine under 0.5 mL/kg/h. NotKnown("creatinine") when nothing at all
    is known of the kidneys, or what else it takes to judge a creatinine that is there.
    """
    for key in FAILING_CONDITIONS:
        if key in patient.conditions:
            return Fact(True, patient.conditions.detail.get(key, key.replace("_", " ")))
    by_filtration = _by_filtration(patient)
    if by_filtration and by_filtration.holds:
        return by_filtration
    urine = urine_ml_kg_h(patient)
    if urine is not None and urine < OLIGURIA_ML_KG_H:
        return Fact(True, f"urine {patient.urine_ml_h:g} mL/h ({urine:.2g} mL/kg/h)")
    if by_filtration:
        return by_filtration
    if urine is not None:
        return Fact(False, "urine sufficient")
    if "kidney_disease" in patient.conditions.denied:
        return Fact(False, "no kidney disease recorded")
    raise _lack_of(patient)


def filtration_contradicts(patient: Snapshot) -> str:
    """How eGFR and creatinine of one day contradict each other; empty when they do not."""
    reported, creatinine = patient.value_or_none("egfr"), patient.value_or_none("creatinine")
    if reported is None or creatinine is None or "dialysis" in patient.conditions:
        return ""
    least, most = _egfr_range(patient, creatinine) or (reported, reported)
    failing, good = reported < EGFR_FAILING, reported >= EGFR_GOOD
    if not (failing and least >= EGFR_GOOD) and not (good and most < EGFR_FAILING):
        return ""
    taken = [patient.result(name).taken_at for name in ("egfr", "creatinine")]
    if taken[0] and taken[1] and abs(taken[0] - taken[1]) > ONE_DAY:
        return ""
    if failing:
        means = f"creatinine {number(creatinine)} µmol/L means about {least:.0f}"
        return f"eGFR {number(reported)}, if true: {means}"
    means = f"it means an eGFR of about {most:.0f}, and {number(reported)} is reported"
    return f"creatinine {number(creatinine)} µmol/L, if true: {means}"


def at_most_warning(level: Level, fact: Fact) -> Level:
    """The level, or a warning where the figures behind it contradict each other."""
    return "warning" if fact.in_doubt and level == "critical" else level


def _by_filtration(patient: Snapshot) -> Fact | None:
    """What eGFR or creatinine says; where sex or a child's height is missing, only what holds
    for either sex, or for any height that a child over one year has.
    """
    contradiction = filtration_contradicts(patient)
    if contradiction:
        return Fact(True, contradiction, in_doubt=True)
    egfr = estimated_egfr(patient)
    if egfr:
        return Fact(egfr[0] < EGFR_FAILING, egfr[1])
    creatinine = patient.value_or_none("creatinine")
    if creatinine is None:
        return None
    because = f"creatinine {number(creatinine)} µmol/L"
    if creatinine >= CREATININE_FAILING_UMOL_L:
        return Fact(True, because)
    least_most = _egfr_range(patient, creatinine)
    if least_most is None:
        return None
    least, most = least_most
    agree = (least < EGFR_FAILING) == (most < EGFR_FAILING)
    return Fact(least < EGFR_FAILING, because) if agree else None


def _egfr_range(patient: Snapshot, creatinine: float) -> tuple[float, float] | None:
    """Least and most filtration this creatinine may mean, whatever sex or height is not known."""
    age = patient.age_years
    if age is None or age < CHILD_FORMULA_FROM_YEARS:
        return None
    if patient.is_child():
        heights = CHILD_HEIGHTS_CM if patient.height_cm is None else (patient.height_cm,)
        each = [egfr_bedside_child(creatinine, cm) for cm in heights]
    else:
        sexes = SEXES if patient.sex is None else (patient.sex,)
        each = [egfr_ckd_epi_2021(creatinine, age, sex) for sex in sexes]
    return min(each), max(each)


def _lack_of(patient: Snapshot) -> NotKnown:
    """What would have to be known: creatinine, or what it takes to judge one."""
    if patient.value_or_none("creatinine") is None:
        try:
            patient.result("creatinine")
        except NotKnown as lack:
            if lack.why != "missing":
                return lack
        return NotKnown("creatinine", "missing", "nothing is known of the kidneys")
    if patient.age_years is None:
        return NotKnown("age_years", "missing", "a creatinine is judged by age")
    if patient.age_years < CHILD_FORMULA_FROM_YEARS:
        return NotKnown("urine_ml_h", "missing", "an infant's kidneys are judged by urine")
    if patient.is_child():
        return NotKnown("height_cm", "missing", "a child's creatinine is judged by height")
    return NotKnown("sex", "missing", "this creatinine is judged by sex")


def lack_of_calcium(patient: Snapshot) -> NotKnown:
    """Why there is no calcium to judge by; of the total, where only that was ever measured."""
    measured = [name for name in CALCIUMS if patient.results.get(name)]
    try:
        patient.result(measured[0] if measured else CALCIUMS[0])
    except NotKnown as lack:
        return lack
    return NotKnown(CALCIUMS[0])


def kidneys_known_to_fail(patient: Snapshot) -> bool:
    """True only where something known says so: for what must not be urged, never for silence."""
    try:
        return kidneys_failing(patient).holds
    except NotKnown:
        return False


def urine_ml_kg_h(patient: Snapshot) -> float | None:
    """Urine by weight, mL/kg/h; None without both."""
    if patient.urine_ml_h is None or patient.weight_kg is None:
        return None
    return patient.urine_ml_h / patient.weight_kg
