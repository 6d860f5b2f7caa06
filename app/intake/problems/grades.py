"""What a stage, a percent or a filtration rate beside a condition makes of it."""

import re
from collections.abc import Iterator
from typing import Final

STAGE: Final = re.compile(
    r"\b(?:stage|kdigo|akin|grade|class|aki|ckd|g|disease|injury)\s*g?([1-5]|iii|iv|v)\s?[abd]?\b"
)
ROMAN: Final = {"iii": 3, "iv": 4, "v": 5}
SEVERE_STAGE: Final = {"acute_kidney_injury": 3, "chronic_kidney_disease": 4}
FILTRATION: Final = re.compile(
    r"\b(?:e?gfr|cr ?cl|(?:cr|creat|creatinine) clearance)\b"
    r"\s*(>|over|above)?\D{0,12}?(\d+(?:\.\d+)?)"
)
SEVERE_BELOW: Final = 30.0
DISEASE_BELOW: Final = 60.0
PERCENT: Final = re.compile(r"(\d+(?:\.\d+)?) ?%|(\d+(?:\.\d+)?) (?:percent|tbsa|bsa)")
# Adults from 15% of body surface need a fluid plan (common practice, no source).
MAJOR_BURN_PERCENT: Final = 15.0
DAYS_AFTER: Final = re.compile(r"\b(?:pod|days?|d)\s*(\d+)|(\d+)\s*days?\b")
LONG_AFTER: Final = re.compile(r"\b(?:weeks?|wks?|months?|mths?|years?|yrs?)\b|\d+ / (?:52|12)\b")
POSTOPERATIVE_DAYS: Final = 3


def graded(key: str, text: str) -> Iterator[str]:
    """Keys that follow from a stage, a percent or a grade written beside a condition."""
    if key in SEVERE_STAGE:
        stage = STAGE.search(text)
        grade = ROMAN.get(stage[1]) or int(stage[1]) if stage else 0
        if grade >= SEVERE_STAGE[key] or "severe" in text or "end stage" in text:
            yield "severe_kidney_failure"
    if key == "burns":
        percent = PERCENT.search(text)
        if percent and float(percent[1] or percent[2]) >= MAJOR_BURN_PERCENT:
            yield "major_burns"
    if key in ("hyponatraemia", "hypernatraemia"):
        yield from (f"{when}_{key}" for when in ("acute", "chronic") if when in text.split())
    if key == "hyponatraemia" and ("seizure" in text or "coma" in text):
        yield "severe_hyponatraemia_symptoms"


def filtration_keys(text: str) -> frozenset[str] | None:
    """What an eGFR or a creatinine clearance among the words says; None when there is none."""
    match = FILTRATION.search(text)
    if match is None:
        return None
    if match[1] or float(match[2]) >= DISEASE_BELOW:
        return frozenset()
    severe = float(match[2]) < SEVERE_BELOW
    return frozenset({"kidney_disease", "severe_kidney_failure"} if severe else {"kidney_disease"})


def within_72_h(text: str) -> bool:
    """True unless the words beside an operation put it more than three days back."""
    match = DAYS_AFTER.search(text)
    if match:
        return int(match[1] or match[2]) <= POSTOPERATIVE_DAYS
    return not LONG_AFTER.search(text)
