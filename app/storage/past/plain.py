"""A request without its person: fields that reviews read, and of free words those they read.

What is left out: bed and initials, names given to orders and cannulas, every field that no review
reads, statements of which not a word was understood, titles with the name behind them, long
numbers, addresses of mail, and exact ages above 90.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any, Final

from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary
from app.storage.patients import (
    CO_INFUSION_FIELDS,
    OBSERVATION_FIELDS,
    ORDER_FIELDS,
    PATIENT_FIELDS,
)

Request = dict[str, Any]
OLDEST_TOLD_YEARS: Final = 90.0
LEFT_OUT: Final = "…"
ANOTHER_LINE: Final = "another line"
ADDITIVE_FIELDS: Final = ("substance", "amount", "unit")
# A title with the name behind it (as written, for MS is an illness); what follows the words for a
# record or a birth; a mail address; a long number (no rate, volume or dose has seven digits).
PERSONAL: Final = re.compile(
    r"\b(?:Mrs?|Ms|Miss|Mx|Dr|Prof|Sister|Nurse)\b\.?\s+[A-Z][\w'’-]*(?:\s+[A-Z][\w'’-]+)*"
    r"|\b(?i:mrn|dob|date of birth|born on|record no|hospital no)\b[\s.:#]*\S+"
    r"|\S+@\S+\.\w+"
    r"|\d{7,}|\d{3}[ -]\d{3}[ -]\d{4}|\d{5} \d{6}"
)
FREE_WORDS: Final = ("fluid", "rate_text", "order_text", "purpose", "note", "name", "role")


def without_person(
    request: Mapping[str, Any], vocabulary: Vocabulary, own: Iterable[str]
) -> Request:
    """The request as it may be kept. own: this bed's name and initials, never kept as words."""
    never = tuple(word for word in own if word)
    patient = request.get("patient") or {}
    lines = {lumen.get("id"): f"line {n}" for n, lumen in enumerate(_rows(patient, "access"), 1)}
    kept = _only(patient, PATIENT_FIELDS, never)
    if isinstance(kept.get("age_years"), int | float):
        kept["age_years"] = min(kept["age_years"], OLDEST_TOLD_YEARS)
    kept["conditions"] = _understood(_texts(patient.get("conditions")), vocabulary, never)
    kept["medications"] = [plain_text(text, never) for text in _texts(patient.get("medications"))]
    kept["observations"] = [
        _only(one, OBSERVATION_FIELDS, never) for one in _rows(patient, "observations")
    ]
    kept["access"] = [
        {**_only(one, ("site", "role"), never), "id": lines[one.get("id")]}
        for one in _rows(patient, "access")
    ]
    orders = enumerate(_rows(request, "orders"), 1)
    return {
        **_only(request, ("setting",), never),
        "patient": kept,
        "orders": [_order(one, f"o{n}", lines, never) for n, one in orders],
        "co_infusions": [
            _on_line(_only(one, CO_INFUSION_FIELDS, never), lines)
            for one in _rows(request, "co_infusions")
        ],
    }


def plain_text(text: str, own: Iterable[str] = ()) -> str:
    """Words without what names a person. own: more words to leave out, as whole words."""
    for word in own:
        text = re.sub(rf"(?<!\w){re.escape(word)}(?!\w)", LEFT_OUT, text)
    return PERSONAL.sub(LEFT_OUT, text)


def _understood(texts: Iterable[str], vocabulary: Vocabulary, never: tuple[str, ...]) -> list[str]:
    """Statements as they are read; those of which nothing is read are left out."""
    kept = []
    for text in texts:
        words = read_conditions((text,), vocabulary)
        if words.unread and not words.found and not words.denied:
            continue
        less = text
        for phrase in words.unread:
            less = re.sub(re.escape(phrase), LEFT_OUT, less, flags=re.IGNORECASE)
        again = read_conditions((less,), vocabulary)
        same = again.found == words.found and again.denied == words.denied
        kept.append(plain_text(less if same else text, never))
    return kept


def _order(
    order: Mapping[str, Any], name: str, lines: Mapping[Any, str], never: tuple[str, ...]
) -> Request:
    kept = _on_line(_only(order, ORDER_FIELDS, never), lines)
    additives = [
        {key: plain_text(value, never) if isinstance(value, str) else value
         for key, value in one.items() if key in ADDITIVE_FIELDS}
        for one in _rows(order, "additives")
    ]  # fmt: skip
    return {**kept, "id": name, **({"additives": additives} if additives else {})}


def _on_line(part: Request, lines: Mapping[Any, str]) -> Request:
    """The part on its line by the line's new name; a line that is not listed is one more."""
    if part.get("lumen") is None:
        return part
    return {**part, "lumen": lines.get(part["lumen"], ANOTHER_LINE)}


def _only(part: Mapping[str, Any], fields: Iterable[str], never: tuple[str, ...]) -> Request:
    """The known fields, with what people wrote made plain."""
    return {
        name: plain_text(part[name], never)
        if name in FREE_WORDS and isinstance(part[name], str)
        else part[name]
        for name in fields
        if part.get(name) is not None
    }


def _rows(part: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    rows = part.get(name)
    return [row for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []


def _texts(value: object) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    return tuple(v for v in value if isinstance(v, str)) if isinstance(value, list) else ()
