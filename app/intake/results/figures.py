"""A result's figure as systems and people write it: flags, ranges, bounds, remarks."""

import re
from dataclasses import dataclass
from typing import Final

from app.intake.request import read_number
from app.intake.results.units import is_unit, unit_of_result
from app.intake.vocabulary import Phrases, fold


@dataclass
class Doubt(Exception):
    """Why a figure cannot be used, as a person should read it."""

    text: str


class NoResultYet(Exception):
    """What stands there is no result: pending, not done."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit ("" when none), what it bounds, and what is remarked beside it.

    bound: "" for a plain figure, "under" or "over" where only that is reported. said: a unit in
    capitals that was read as written small. grouped: written with a comma before each three digits,
    which other countries write for a decimal point.
    """

    number: float
    unit: str = ""
    bound: str = ""
    remark: str = ""
    said: str = ""
    grouped: bool = False


PENDING: Final = re.compile(
    r"(?:pending|awaited|awaiting(?: results?)?|to follow|tbc|tba|n/?a|nil|none|not done|not sent"
    r"|not taken|not available|no result|no sample|in lab|with lab|sent|sent to lab|requested|nr|nd"
    r"|-+|\.+|\?+|x"
    r"|not yet (?:back|available|done)|not back|sample sent|rejected|not resulted)[.!]?"
)
BOUNDS: Final = {
    "<": "under", "≤": "under", "<=": "under", "under": "under", "below": "under",
    "less than": "under", ">": "over", "≥": "over", ">=": "over", "over": "over", "above": "over",
    "more than": "over", "greater than": "over",
}  # fmt: skip
BOUND: Final = re.compile(
    rf"({'|'.join(sorted(map(re.escape, BOUNDS), key=len, reverse=True))})\s*"
)
FLAG: Final = r"(?:hh?|ll?|hi|lo|high|low|crit(?:ical)?|c|a|abn(?:ormal)?|panic|alert|[*!↑↓]+)"
FLAG_FIRST: Final = re.compile(rf"(?:{FLAG}(?=[\s*!↑↓])\s*|=\s*|[*↑↓]+\s*)+")
# A flag, where the value comes from, or that it was checked: nothing that changes the figure.
BESIDE: Final = re.compile(
    rf"[\[(]?\s*(?<![a-z])(?:{FLAG}|lab|poc|gas|abg|vbg|repeat(?:ed)?|rpt|checked|confirmed|new"
    r"|final|verified|venous|arterial|art|ven|cap(?:illary)?|s|serum|plasma)(?![a-z/])\s*[\])]?"
    r"|[*!↑↓]+|(?<!\S)-(?!\S)|[.;,]$"
)
RANGE: Final = re.compile(
    r"[\[(]\s*(?:ref\w*|normal|nr|rr|range)?[\s:.]*[<>]?\s*-?\d+(?:[.,]\d+)?"
    r"(?:\s*(?:-|to)\s*-?\d+(?:[.,]\d+)?)?[^\])\d]*[\])]"
)
WRAPPED: Final = re.compile(r"^[\[(*]+\s*([<>]?\s*[+-]?\d[\d.,]*)\s*[\])*]+$")
NUMBER: Final = re.compile(r"([+-]?\s?(?:\d+(?:[.,]\d+)?|\.\d+))(?![\d.,]*\d)\s*(.*)")
THOUSANDS: Final = re.compile(r"(?<!\d)\d{1,3}(?:,\d{3})+(?!\d)")
NAME_FIRST: Final = re.compile(r"([a-z][a-z+ ]*?)\s*[:=]?\s*(?=[<>]?\s*[+-]?\d)")
# Units of one letter; any other letter alone is a flag ("5.9 H").
ONE_LETTER: Final = ("g", "%")
TEXT_IS_REMARK: Final = re.compile(r"[a-z][^/]{3,}|\?.*[a-z].*|[(\[].*[a-z].*")


def read_figure(value: object, unit: str, names: Phrases) -> Figure:
    """The figure of a result. names: words for analytes, one of which may stand before the number.

    Raises Doubt for what is no figure, NoResultYet for a result that is not there yet.
    """
    unit, said = unit_of_result(unit)
    if not isinstance(value, str):
        number = read_number(value, {})
        if number is None:
            raise Doubt("no value" if value is None else "not a number")
        return Figure(number, unit, said=said)
    text = fold(value)
    if not text or PENDING.fullmatch(text):
        raise NoResultYet
    return _of_text(_after_name(text, names), unit, said)


def _after_name(text: str, names: Phrases) -> str:
    text = WRAPPED.sub(r"\1", text)
    text = FLAG_FIRST.sub("", text, count=1) if FLAG_FIRST.match(text) else text
    name = NAME_FIRST.match(text)
    return text[name.end() :] if name and names.get(name[1]) else text


def _of_text(text: str, unit: str, said: str) -> Figure:
    bound = BOUND.match(text)
    rest = text[bound.end() :] if bound else text
    grouped = bool(THOUSANDS.match(rest))
    match = NUMBER.fullmatch(THOUSANDS.sub(lambda m: m[0].replace(",", ""), rest))
    if not match:
        raise Doubt("not a number")
    number = float(match[1].replace(" ", "").replace(",", "."))
    beside, remark = _unit_and_remark(match[2])
    if unit and beside and beside != unit:
        raise Doubt(f"two units, {beside} and {unit}: which?")
    return Figure(number, unit or beside, BOUNDS[bound[1]] if bound else "", remark, said, grouped)


def _unit_and_remark(text: str) -> tuple[str, str]:
    """What follows a number: its unit, and what is remarked. Raises Doubt for a second figure."""
    text = RANGE.sub(" ", text).strip()
    if text in ONE_LETTER or (is_unit(text) and len(text) > 1):
        return unit_of_result(text)[0], ""
    first, _, rest = text.lstrip("- ").partition(" ")
    if is_unit(first) and len(first) > 1:
        unit, text = unit_of_result(first)[0], rest
    else:
        unit = ""
    left = " ".join(BESIDE.sub(" ", f"{text} ").split())
    if not left:
        return unit, ""
    if TEXT_IS_REMARK.fullmatch(left) and not re.search(r"\d+[.,]\d", left):
        return unit, left
    if unit or any(letter.isdigit() for letter in left):
        raise Doubt("not a plain number")
    return left, ""
