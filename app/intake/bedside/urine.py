"""Urine and drained losses as a problem list tells them in figures."""

import re
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from app.patient.snapshot import Words

# Under it a patient is oliguric, mL/kg/h (KDIGO, from memory).
OLIGURIA_ML_KG_H: Final = 0.5
# The same for an adult whose weight is not known (common practice, no source).
ADULT_OLIGURIA_ML_H: Final = 30.0
NUMBER: Final = r"(\d+(?:\.\d+)?)(?:\s*(?:-|to)\s*(\d+(?:\.\d+)?))?"
PASSED: Final = (
    r"\b(?:uo|u ?/ ?o|uop|urine output|urine|passing|passed|pu|catheter|idc)\b[^\d;,]{0,15}?"
)
PER_HOUR: Final = re.compile(
    rf"{PASSED}{NUMBER}\s*(?:(?:mls?|cc)\s*((?:/|per)\s*kg)?\s*(?:/|per|an|p)?|(?:/|per))\s*"
    r"(?:h|hr|hour)\b"
)
PER_DAY: Final = re.compile(
    rf"{PASSED}{NUMBER}\s*(?:mls?|cc)\s*(?:/|per|in|over|a)\s*(?:the )?(?:last |past )?"
    r"(?:24 ?(?:h|hr|hrs|hours)|24 ?/ ?24|day|d)\b"
)
IN_HOURS: Final = re.compile(
    rf"{PASSED}{NUMBER}\s*(?:mls?|cc)\s*(?:/|in|over|for)\s*(?:the )?(?:last |past )?"
    r"(?:(\d+(?:\.\d+)?)\s*(?:h|hr|hrs|hours)|(?<=last |past )(?:hour|hr|h))\b"
)
PLANNED: Final = re.compile(r"\b(?:if|aim\w*|target\w*|keep|maintain|goal|until)\b[^;,]*$")
HOURS_PER_DAY: Final = 24.0


@dataclass(frozen=True, slots=True)
class Urine:
    """Urine as told: mL in an hour, for each kilogram where so written."""

    ml_h: float
    per_kg: bool
    written: str

    def in_patient_ml_h(self, weight_kg: float | None) -> float | None:
        """mL/h in this patient; None when the weight is wanting."""
        if not self.per_kg:
            return self.ml_h
        return None if weight_kg is None else self.ml_h * weight_kg

    def is_scant(self, weight_kg: float | None, *, adult: bool) -> bool:
        """True where it is too little; an adult's can be told without a weight."""
        if self.per_kg:
            return self.ml_h < OLIGURIA_ML_KG_H
        if weight_kg is not None:
            return self.ml_h < OLIGURIA_ML_KG_H * weight_kg
        return adult and self.ml_h < ADULT_OLIGURIA_ML_H


def read_urine(text: str) -> tuple[str, Urine | None]:
    """The text without its urine output, and that output. text: folded.

    Of a range the higher figure is taken. What is aimed at is none.
    """
    for pattern in (IN_HOURS, PER_DAY, PER_HOUR):
        match = pattern.search(text)
        if match and not PLANNED.search(text[: match.start()]):
            ml = float(match[2] or match[1])
            per_kg = pattern is PER_HOUR and match[3] is not None
            hours = {PER_DAY: HOURS_PER_DAY, PER_HOUR: 1.0}.get(pattern) or float(match[3] or 1)
            return text.replace(match[0], " "), Urine(ml / (hours or 1.0), per_kg, match[0])
    return text, None


def with_urine(said: Words, urine: Urine | None, weight_kg: float | None, *, adult: bool) -> Words:
    """The conditions, with oliguria where the urine told is too little."""
    if urine is None or "oliguria" in said or not urine.is_scant(weight_kg, adult=adult):
        return said
    key = "oliguria" if urine.ml_h else "anuria"
    detail = MappingProxyType({**said.detail, key: urine.written})
    return replace(said, found=said.found | {key}, denied=said.denied - {key}, detail=detail)
