"""A figure in a problem list that says something by itself: pressure in the head, ejection."""

import re
from collections.abc import Callable, Mapping
from typing import Final

# Treated from here on in most units, mmHg (common practice, no source).
PRESSURE_HIGH_MMHG: Final = 20.0
EJECTION_LOW_PERCENT: Final = 40.0
# Risk of refeeding by itself under 16 kg/m2 (NICE CG32, from memory).
MASS_INDEX_LOW: Final = 18.5
MASS_INDEX_VERY_LOW: Final = 16.0
MASS_INDEX_HIGH: Final = 35.0
MEASURE: Final = re.compile(
    r"\b(icp|intracranial pressure|lvef|ef|ejection fraction|bmi|sbp|systolic(?: bp)?|map|bp|gcs"
    r"|cpp|spo2|sats|saturations?|hr|heart rate|pulse|rr|resp(?:iratory)? rate|temp|crt|cfs|nihss)"
    r"\s*(?:of|=|:|is|was|now|at|about|around|<|>|under|over|above|below)?\s*"
    r"(\d+(?:\.\d+)?)(?:\s*/\s*\d+)?(?:\s*(?:-|to)\s*\d+)?\s*(?:mm\s?hg|cm\s?h2o|%|kg/m2|bpm|c\b|/15)?"
)
Says = Callable[[float], tuple[str, ...]]


def _pressure(icp_mmhg: float) -> tuple[str, ...]:
    high = icp_mmhg >= PRESSURE_HIGH_MMHG
    return ("raised_intracranial_pressure", "brain_injury") if high else ()


def _ejection(percent: float) -> tuple[str, ...]:
    return ("heart_failure",) if 1 < percent < EJECTION_LOW_PERCENT else ()


def _mass_index(bmi: float) -> tuple[str, ...]:
    if bmi < MASS_INDEX_VERY_LOW:
        return ("malnutrition", "refeeding_risk")
    if bmi < MASS_INDEX_LOW:
        return ("malnutrition",)
    return ("obesity",) if bmi >= MASS_INDEX_HIGH else ()


SAYS: Final[Mapping[str, Says]] = {
    "icp": _pressure, "intracranial pressure": _pressure, "lvef": _ejection, "ef": _ejection,
    "ejection fraction": _ejection, "bmi": _mass_index,
}  # fmt: skip


def read_measures(text: str) -> tuple[str, frozenset[str]]:
    """The text without the measures known, and the condition keys that they say.

    text: folded. Pressures and rates whose meaning hangs on the age say nothing here.
    """
    keys: set[str] = set()
    for match in MEASURE.finditer(text):
        says = SAYS.get(match[1])
        keys.update(says(float(match[2])) if says else ())
    return MEASURE.sub(" ", text), frozenset(keys)
