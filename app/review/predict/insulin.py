"""Insulin whose dose is written: in a bag, or running by itself among the medications."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.patient.order import AdditiveDose
from app.patient.snapshot import Snapshot
from app.physiology.course.body import Assumed
from app.physiology.course.loads import Load
from app.review.predict.notes import MEDICATIONS, Note

INSULIN: Final = "insulin"
MINUTES_PER_HOUR: Final = 60.0
# Nobody is given more in an hour, units/kg (the highest of poisonings, from memory).
MOST_UNITS_KG_H: Final = 20.0
ADULT_KG: Final = 70.0
NUMBER: Final = r"(\d+(?:[.,]\d+)?)"
UNITS: Final = r"(?:units?|iu|u)"
PER: Final = r"\s*(?:/|per|an|each|every)\s*"
HOUR: Final = r"(?:h|hr|hrs|hour|hours)\b"
RATE: Final = re.compile(rf"{NUMBER}\s*{UNITS}(?P<by_kg>{PER}kg)?{PER}{HOUR}")
SYRINGE: Final = re.compile(
    rf"{NUMBER}\s*{UNITS}\b[^\d]*?\b(?:in|/)\s*{NUMBER}\s*mls?\b.*?{NUMBER}\s*mls?{PER}{HOUR}"
)
RANGE: Final = re.compile(rf"\d\s*(?:-|to|\u2013)\s*{NUMBER}\s*{UNITS}|up to|max")
DOSE: Final = re.compile(rf"{NUMBER}\s*{UNITS}\b(?:{PER}(?P<by>l|litre|liter|kg)\b)?")
SLOW: Final = re.compile(r"glargine|detemir|degludec|icodec|isophane|nph|premix|biphasic|mixed")
WHY: Final = (
    "as the medications say; taken to start now, so that less is to come if it runs already"
)
NO_RATE: Final = "Insulin is reckoned only with its rate, in units/h; this is not reckoned."
NOT_SOLUBLE: Final = "Only soluble insulin into a vein is reckoned; this is not reckoned."


@dataclass(frozen=True, slots=True)
class RunningInsulin:
    """Insulin of the medications as loads, what was assumed of it, and a note for each line."""

    loads: tuple[Load, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    notes: tuple[Note, ...] = ()


def running_insulin(
    patient: Snapshot, horizon_min: float, lines: Iterable[str] | None = None
) -> RunningInsulin:
    """Insulin that runs by itself for all the time looked ahead.

    lines: those of the medications that name insulin; None takes the one that the snapshot keeps.
    """
    if lines is None:
        kept = patient.medications.detail.get(INSULIN)
        lines = () if kept is None else (kept,)
    loads: list[Load] = []
    assumed: list[Assumed] = []
    notes: list[Note] = []
    for line in dict.fromkeys(lines):
        units_h = units_an_hour(line, patient.weight_kg)
        if isinstance(units_h, str):
            notes.append(Note(MEDICATIONS, line, units_h))
            continue
        units = units_h * horizon_min / MINUTES_PER_HOUR
        loads.append(Load(Composition(), 0.0, 0.0, horizon_min, insulin_units=units))
        assumed.append(Assumed(INSULIN, units_h, "units/h", WHY))
        text = f"The insulin is reckoned at {units_h:g} units/h; nothing else of these words is."
        notes.append(Note(MEDICATIONS, line, text))
    return RunningInsulin(tuple(loads), tuple(assumed), tuple(notes))


def units_an_hour(written: str, weight_kg: float | None) -> float | str:
    """The one rate that the words give, units/h; or why none is reckoned."""
    text = written.lower()
    if SLOW.search(text):
        return NOT_SOLUBLE
    rates = _rates(text, weight_kg)
    if len(rates) != 1 or RANGE.search(text):
        return NO_RATE
    (rate,) = rates
    most = MOST_UNITS_KG_H * (weight_kg or ADULT_KG)
    if rate > most:
        return f"{rate:g} units/h is more than anybody is given; this is not reckoned."
    return rate


def _rates(text: str, weight_kg: float | None) -> set[float]:
    found: set[float] = set()
    for match in RATE.finditer(text):
        rate = _number(match[1])
        if match["by_kg"] and weight_kg is None:
            continue
        found.add(rate * (weight_kg or 0.0) if match["by_kg"] else rate)
    for match in SYRINGE.finditer(text):
        units, held_ml, ml_h = (_number(match[n]) for n in (1, 2, 3))
        if held_ml:
            found.add(units / held_ml * ml_h)
    return found


def units_in(dose: AdditiveDose, volume_ml: float | None, weight_kg: float | None) -> float | None:
    """Units of soluble insulin in an order's whole volume; None where they are not written."""
    text = dose.as_written.lower()
    match = DOSE.search(text)
    if match is None or SLOW.search(text):
        return None
    number, by = _number(match[1]), match["by"]
    if by is None:
        return number
    if by == "kg":
        return None if weight_kg is None else number * weight_kg
    return None if volume_ml is None else number * volume_ml / ML_PER_L


def _number(text: str) -> float:
    return float(text.replace(",", "."))
