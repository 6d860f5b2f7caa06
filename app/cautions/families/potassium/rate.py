"""Potassium too fast: each hour and each day, from every bag and drug together."""

from collections.abc import Iterator
from typing import Final

from app.cautions.families.potassium.bedside import (
    CRISES,
    DKA_UK,
    KCL_RATES,
    PRACTICE,
    in_crisis_on_insulin,
    monitored,
)
from app.cautions.phrases import listed, number, opening, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule, defaults
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot
from app.physiology.potassium import PotassiumSource, peak_mmol_h, sources_of_potassium

WEIGHED: Final = "weight_kg"
UNTOLD: Final = ("fluid", "volume_ml")


def _counted(case: Case) -> tuple[PotassiumSource, ...]:
    """All sources, when any brings more than a balanced fluid does; a fast balanced bolus never."""
    sources = sources_of_potassium(case)
    if not any(source.added or source.lacks in UNTOLD for source in sources):
        return ()
    return tuple(source for source in sources if source.added or not source.single)


def _or_lack(sources: tuple[PotassiumSource, ...]) -> None:
    """NotKnown when a source could not be counted, and what could be raised no finding."""
    for source in sources:
        if source.lacks:
            raise NotKnown(source.lacks, "missing", f"potassium from “{source.name}” is not known")


def potassium_rate(case: Case, limits: Limits) -> Iterator[Finding]:
    """Potassium each hour above what this patient's size and monitoring allow."""
    sources = _counted(case)
    per_hour, at_once = peak_mmol_h(sources)
    level = _level_by_hour(case, per_hour, limits) if per_hour else None
    if level is None:
        _or_lack(sources)
        return
    patient = case.patient
    counting = tuple(s for s in at_once if s.per_hour)
    parts = tuple(f"{number(s.per_hour or 0)} mmol/h from {s.name}" for s in counting)
    watched = "ECG watched" if monitored(patient) else "no ECG monitoring told"
    most = number(_most_allowed(patient, limits))
    yield Finding(
        level,
        f"Potassium {number(per_hour)} mmol/h{_by_weight(patient, per_hour)}, {watched}: at most "
        f"{most} mmol/h.",
        f"{opening(listed(parts))}. {opening(reading_or_lack(patient, 'potassium'))}.",
        figures={"potassium_mmol_h": per_hour, **_figures(patient, per_hour)},
        limits=_used(patient),
        do=_advice(limits),
        order_ids=tuple(s.order_id for s in counting if s.order_id),
    )


def _level_by_hour(case: Case, per_hour: float, limits: Limits) -> Level | None:
    patient = case.patient
    age_known = patient.age_years is not None or patient.setting is not None
    if not age_known:
        return "warning" if per_hour > limits["adult_usual_mmol_h"] else None
    usual, most, extreme = _ceilings(patient, per_hour, limits)
    if per_hour > most:
        accepted = per_hour <= extreme and _very_low(patient, limits) and monitored(patient)
        return "info" if accepted else "critical"
    if per_hour <= usual or monitored(patient):
        return None
    return "info" if in_crisis_on_insulin(case) else "warning"


def _ceilings(patient: Snapshot, per_hour: float, limits: Limits) -> tuple[float, float, float]:
    """Usual, most and extreme rates for this patient, mmol/h; a child's by weight."""
    adult = (
        limits["adult_usual_mmol_h"],
        limits["adult_most_mmol_h"],
        limits["adult_extreme_mmol_h"],
    )
    if patient.is_adult() or (patient.weight_kg is None and per_hour > adult[1]):
        return adult
    if patient.weight_kg is None:
        raise NotKnown(WEIGHED, "missing", "a child's potassium is judged by weight")
    child = ("child_usual_mmol_kg_h", "child_most_mmol_kg_h", "child_extreme_mmol_kg_h")
    by_weight = [limits[name] * patient.weight_kg for name in child]
    usual, most, extreme = (min(pair) for pair in zip(by_weight, adult, strict=True))
    return usual, most, extreme


def _most_allowed(patient: Snapshot, limits: Limits) -> float:
    """What this patient may have each hour, with the monitoring that is told, mmol/h."""
    step = "most" if monitored(patient) else "usual"
    adult = limits[f"adult_{step}_mmol_h"]
    if patient.weight_kg is None or not child(patient):
        return adult
    return min(adult, limits[f"child_{step}_mmol_kg_h"] * patient.weight_kg)


def _very_low(patient: Snapshot, limits: Limits) -> bool:
    potassium = patient.value_or_none("potassium")
    return potassium is not None and potassium < limits["potassium_very_low_mmol_l"]


def _by_weight(patient: Snapshot, per_hour: float) -> str:
    if patient.weight_kg is None or not child(patient):
        return ""
    return f" ({number(per_hour / patient.weight_kg)} mmol/kg/h)"


def _figures(patient: Snapshot, per_hour: float) -> dict[str, float]:
    if patient.weight_kg is None:
        return {}
    return {"potassium_mmol_kg_h": per_hour / patient.weight_kg, WEIGHED: patient.weight_kg}


def _used(patient: Snapshot) -> tuple[str, ...]:
    who, unit = ("child", "mmol_kg_h") if child(patient) else ("adult", "mmol_h")
    return (f"{who}_usual_{unit}", f"{who}_most_{unit}")


def potassium_day(case: Case, limits: Limits) -> Iterator[Finding]:
    """Potassium in 24 hours above what is usual."""
    sources, patient = _counted(case), case.patient
    if patient.conditions.any_of(*CRISES):
        return
    total = sum(source.per_day or 0.0 for source in sources)
    ceiling = _day_ceiling(patient, total, limits) if total else 0.0
    if total <= ceiling:
        _or_lack(tuple(s for s in sources if s.per_day is None))
        return
    treated = _very_low(patient, limits) and monitored(patient)
    parts = tuple(f"{number(s.per_day or 0)} mmol from {s.name}" for s in sources if s.per_day)
    yield Finding(
        "info" if treated else "warning",
        f"Potassium {number(total)} mmol in 24 h{_day_by_weight(patient, total)}.",
        f"{opening(listed(parts))}. {opening(reading_or_lack(patient, 'potassium'))}.",
        figures={"potassium_mmol_day": total},
        limits=("adult_mmol_day", "by_weight_mmol_kg_day"),
        order_ids=tuple(s.order_id for s in sources if s.order_id),
    )


def _day_ceiling(patient: Snapshot, total: float, limits: Limits) -> float:
    most = limits["adult_mmol_day"]
    if patient.weight_kg is not None:
        return min(most, limits["by_weight_mmol_kg_day"] * patient.weight_kg)
    if total <= most and child(patient):
        raise NotKnown(WEIGHED, "missing", "a child's potassium is judged by weight")
    return most


def _day_by_weight(patient: Snapshot, total: float) -> str:
    if patient.weight_kg is None:
        return ""
    return f", {number(round(total / patient.weight_kg, 1))} mmol/kg"


def _advice(limits: Limits) -> str:
    return (
        "Slow it down: 10 mmol/h at most on a ward. Faster only with a pump, ECG monitoring and "
        f"potassium again in {limits['sample_h']:g} h. At any rate repeat it in "
        f"{limits['sample_far_h']:g} h while it is low or high."
    )


VERY_LOW: Final = Limit(
    "potassium_very_low_mmol_l", 2.5, "mmol/L", "plasma potassium that justifies more", KCL_RATES
)

RATE_LIMITS: Final = (
    Limit("adult_usual_mmol_h", 10, "mmol/h", "most without ECG monitoring"),
    Limit("adult_most_mmol_h", 20, "mmol/h", "most with ECG monitoring", PRACTICE),
    Limit("adult_extreme_mmol_h", 40, "mmol/h", "most in the extreme"),
    Limit("child_usual_mmol_kg_h", 0.2, "mmol/kg/h", "most in a child", PRACTICE),
    Limit("child_most_mmol_kg_h", 0.4, "mmol/kg/h", "most in a child with ECG", PRACTICE),
    Limit("child_extreme_mmol_kg_h", 0.5, "mmol/kg/h", "most in a child in the extreme", PRACTICE),
    VERY_LOW,
    Limit("sample_h", 2, "h", "next potassium above the usual rate", PRACTICE, advised=True),
    Limit("sample_far_h", 4, "h", "the same of a low or high one", PRACTICE, advised=True),
)
RULES: Final = (
    Rule(
        id="k-rate",
        title="Potassium too fast",
        trigger="Potassium from all bags and drugs together: in adults over 20 mmol/h critical, "
        "over 10 mmol/h without ECG monitoring a warning; in children over 0.4 and 0.2 mmol/kg/h. "
        "Balanced fluids count only beside added potassium, and never as a bolus.",
        unless="the patient is in intensive care, theatre or the emergency department or has ECG "
        "monitoring (to 20 mmol/h), or potassium is under 2.5 mmol/L there (to 40 mmol/h)",
        do=_advice(defaults(RATE_LIMITS)),
        evidence="The label gives 10 mmol/h as usual and 40 mmol/h in the extreme, by a central "
        "line with ECG; 20 mmol/h is the usual limit of monitored units. Children's limits are "
        "from memory. A balanced bolus cannot raise potassium above its own 4 to 5 mmol/L.",
        sources=(KCL_RATES, DKA_UK),
        needs=("weight_kg", "rate_ml_h", "fluid"),
        limits=RATE_LIMITS,
        levels=("critical", "warning", "info"),
        for_patient=potassium_rate,
    ),
    Rule(
        id="k-day",
        title="Potassium too much in a day",
        trigger="Potassium from all bags and drugs over 200 mmol in 24 hours, or over 3 mmol/kg.",
        unless="potassium is under 2.5 mmol/L with ECG monitoring; in ketoacidosis and "
        "hyperosmolar state rates change by the hour and a day is not foretold; a bag of 250 mL "
        "or less counts once",
        do="Check that every source is meant, and set the next potassium.",
        evidence="The label's limit for a patient whose potassium is over 2.5 mmol/L. Daily need "
        "is about 1 mmol/kg.",
        sources=(KCL_RATES,),
        needs=("weight_kg", "fluid"),
        limits=(
            Limit("adult_mmol_day", 200, "mmol/24 h", "most in a day"),
            Limit("by_weight_mmol_kg_day", 3, "mmol/kg/24 h", "most by weight", PRACTICE),
            VERY_LOW,
        ),
        levels=("warning", "info"),
        for_patient=potassium_day,
    ),
)
