"""Figures and results as a nurse would read them aloud."""

import re
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

SIGNIFICANT: Final = 3
SIGNIFICANT_BELOW_ONE: Final = 2
THOUSAND: Final = 1000
TO_THE_HOUR_FROM_H: Final = 3.0
MINUTES_PER_HOUR: Final = 60.0
SPOKEN: Final = {
    "ph": "pH", "pco2": "carbon dioxide", "egfr": "eGFR", "inr": "INR",
    "calcium_ionised": "ionised calcium", "calcium_total": "total calcium",
}  # fmt: skip
NAME_AT_MOST: Final = 52
NUTRITION: Final = "parenteral_nutrition"
PLURAL: Final = ("cells", "platelets", "vitamins", "elements", "acids")
ENDINGS: Final = (".", "?", "!")
ASIDE: Final = re.compile(r" \([^)]*\)")


def number(value: float) -> str:
    """Up to three significant figures, two below 1, no trailing zeros, no exponent: "0.24",
    "5", "1,250".
    """
    figures = SIGNIFICANT if abs(value) >= 1 else SIGNIFICANT_BELOW_ONE
    rounded = round(value) if abs(value) >= THOUSAND else float(f"{value:.{figures}g}")
    return f"{rounded:,.0f}" if abs(rounded) >= THOUSAND else f"{rounded:g}"


def spoken(name: str) -> str:
    """A result's name as people say it: "pH", "ionised calcium"."""
    return SPOKEN.get(name, name.replace("_", " "))


def hours_text(hours: float) -> str:
    """A time as it is said: "30 min", "1.5 h", "23 h"."""
    if hours < 1:
        return f"{round(hours * MINUTES_PER_HOUR)} min"
    return f"{number(round(hours, 1) if hours < TO_THE_HOUR_FROM_H else round(hours))} h"


def volume_text(litres: float) -> str:
    """A volume as it is said: "288 mL", "2.4 L"."""
    if litres < 1:
        return f"{number(round(litres * ML_PER_L))} mL"
    return f"{number(round(litres, 1))} L"


def amount_text(amount: float, of: str, unit: str = "mmol/L") -> str:
    """An amount and what of: "77 mmol/L of sodium"; "no sodium" for none."""
    return f"{number(amount)} {unit} of {of}" if amount else f"no {of.replace(' and ', ' or ')}"


def reading(patient: Snapshot, name: str) -> str:
    """A usable result in words: "potassium 5.9 mmol/L, 2 h old". NotKnown when there is none."""
    result = patient.result(name)
    unit = "" if result.unit == "1" else f" {result.unit.replace('umol', 'µmol')}"
    figure = f"{spoken(name)} {number(patient.value(name))}{unit}"
    if result.taken_at is None:
        return f"{figure}, time not recorded"
    return f"{figure}, {patient.age_text(result)} old"


def reading_or_lack(patient: Snapshot, name: str) -> str:
    """As reading(), or "no usable potassium" when there is none."""
    if patient.value_or_none(name) is None:
        return f"no usable {spoken(name)}"
    return reading(patient, name)


def as_sentence(text: str) -> str:
    """The text with exactly one end mark."""
    text = text.strip()
    return text if text.endswith(ENDINGS) else f"{text}."


def listed(names: tuple[str, ...]) -> str:
    """Names as people list them: "a, b and c"."""
    if len(names) < 2:  # noqa: PLR2004 - one name needs no "and"
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def bag_name(order: Order) -> str:
    """The fluid's catalogue name, or what was written, kept short enough for one line."""
    nutrition = any(additive.substance == NUTRITION for additive in order.additives)
    return spoken(NUTRITION) if nutrition and order.fluid is None else short(order.called)


def bag_with_additives(order: Order) -> str:
    """The bag's name with what is put into it: "0.9% sodium chloride with magnesium sulfate"."""
    added = tuple(spoken(additive.substance) for additive in order.additives)
    return f"{bag_name(order)} with {listed(added)}" if added else bag_name(order)


def are(name: str) -> str:
    """ "is" or "are", as the name asks: red cells are, plasma is."""
    return "are" if name.endswith(PLURAL) else "is"


def infusion_name(other: CoInfusion) -> str:
    """What else runs by its plain name: "red cells"; as written when it is not understood."""
    return short(other.key.replace("_", " ") or other.name)


def opening(text: str) -> str:
    """The text as a sentence begins; "pH" and "eGFR" stay as they are written."""
    return text if text[1:2].isupper() else text[:1].upper() + text[1:]


def lowered(title: str) -> str:
    """A title as it stands within a sentence: its first letter small, unless it is a short form."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def short(name: str) -> str:
    """A name without what stands in brackets, cut where it is too long for one line."""
    name = ASIDE.sub("", name)
    return name if len(name) <= NAME_AT_MOST else f"{name[: NAME_AT_MOST - 1].rstrip()}…"
