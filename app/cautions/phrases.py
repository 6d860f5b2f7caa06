"""Figures and results as a nurse would read them aloud."""

import re
from typing import Final

from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

SIGNIFICANT: Final = 3
THOUSAND: Final = 1000
NAME_AT_MOST: Final = 52
ENDINGS: Final = (".", "?", "!")
ASIDE: Final = re.compile(r" \([^)]*\)")


def number(value: float) -> str:
    """Up to three significant figures, no trailing zeros, no exponent: "0.24", "5", "1,250"."""
    rounded = round(value) if abs(value) >= THOUSAND else float(f"{value:.{SIGNIFICANT}g}")
    return f"{rounded:,.0f}" if abs(rounded) >= THOUSAND else f"{rounded:g}"


def reading(patient: Snapshot, name: str) -> str:
    """A usable result in words: "potassium 5.9 mmol/L, 2 h old". NotKnown when there is none."""
    result = patient.result(name)
    unit = "" if result.unit == "1" else f" {result.unit}"
    figure = f"{name.replace('_', ' ')} {number(patient.value(name))}{unit}"
    if result.taken_at is None:
        return f"{figure}, time not recorded"
    return f"{figure}, {patient.age_text(result)} old"


def reading_or_lack(patient: Snapshot, name: str) -> str:
    """As reading(), or "no usable potassium" when there is none."""
    if patient.value_or_none(name) is None:
        return f"no usable {name.replace('_', ' ')}"
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
    return short(order.called)


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
