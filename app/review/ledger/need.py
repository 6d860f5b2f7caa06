"""What this patient routinely needs in 24 hours."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.cautions.day_loads import weight_for_needs
from app.patient.known import NotKnown
from app.patient.snapshot import DAYS_PER_YEAR, Snapshot
from app.physiology.maintenance import (
    LAST_NEWBORN_DAY,
    AdultNeed,
    ChildNeed,
    adult_need,
    child_need,
    newborn_need,
)

FRAIL: Final = ("frailty", "kidney_disease", "heart_failure")
ADULT_SOURCE: Final = "NICE CG174, 2013, as quoted in a journal table"
CHILD_SOURCE: Final = "4-2-1 rule, Holliday and Segar 1957, from memory"
NEWBORN_SOURCE: Final = "NICE NG29 table by day of life, term babies, from memory"
Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Need:
    """Lowest and highest need by column; empty when it cannot be told, with the reason in words.

    weight_kg: the weight it is for. words: whose need, or why none.
    """

    by_column: Mapping[str, Range] = field(default_factory=lambda: MappingProxyType({}))
    weight_kg: float | None = None
    words: str = ""
    source: str = ""


def need_of(patient: Snapshot) -> Need:
    """The routine need of this patient; losses to be made good come on top."""
    try:
        if patient.is_neonate():
            return _newborn(patient)
        return _child(patient) if patient.is_child() else _adult(patient)
    except NotKnown as lack:
        names = {"age_years": "neither age nor setting", "weight_kg": "no weight"}
        return Need(words=f"No need is shown: {names.get(lack.need, lack.need)} is known.")


def _adult(patient: Snapshot) -> Need:
    weight, words = weight_for_needs(patient)
    frail = patient.conditions.any_of(*FRAIL)
    need: AdultNeed = adult_need(weight, frail=frail)
    by_column = {
        "water_ml": (need.water_low_ml, need.water_high_ml),
        "sodium_mmol": (need.sodium_mmol, need.sodium_mmol),
        "potassium_mmol": (need.potassium_mmol, need.potassium_mmol),
        "chloride_mmol": (need.chloride_mmol, need.chloride_mmol),
        "glucose_g": (need.glucose_low_g, need.glucose_high_g),
    }
    who = "a frail adult or one with kidney or heart disease" if frail else "an adult"
    return Need(MappingProxyType(by_column), weight, f"{who} at {words}", ADULT_SOURCE)


def _child(patient: Snapshot) -> Need:
    weight = _weight(patient)
    return Need(_ranges(child_need(weight)), weight, f"a child at {weight:g} kg", CHILD_SOURCE)


def _newborn(patient: Snapshot) -> Need:
    weight = _weight(patient)
    if patient.age_years is None:
        return Need(words="No need is shown: the day of life is not known.")
    if "preterm" in patient.conditions:
        return Need(words="No need is shown: the table is for babies born at term.")
    day = min(round(patient.age_years * DAYS_PER_YEAR) + 1, LAST_NEWBORN_DAY)
    words = f"a newborn on day {day} at {weight:g} kg"
    return Need(_ranges(newborn_need(weight, day)), weight, words, NEWBORN_SOURCE)


def _weight(patient: Snapshot) -> float:
    if patient.weight_kg is None:
        raise NotKnown("weight_kg")
    return patient.weight_kg


def _ranges(need: ChildNeed) -> Mapping[str, Range]:
    by_column = {
        "water_ml": need.water_ml,
        "sodium_mmol": need.sodium_mmol,
        "potassium_mmol": need.potassium_mmol,
        "chloride_mmol": need.chloride_mmol,
    }
    if need.glucose_g is not None:
        by_column["glucose_g"] = need.glucose_g
    return MappingProxyType(by_column)
