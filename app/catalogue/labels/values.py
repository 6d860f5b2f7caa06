"""The numbers of one piece of a label, each with its range, unit and volume."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from app.catalogue.labels.words import Token

# A range stands as "6.0 - 7.5" or "6.0 to 7.5".
RANGE_WORDS: Final = frozenset({"-", "to", "~"})
AT_MOST: Final = "≤"
AT_LEAST: Final = "≥"
# Words that may stand between two figures of one thing: "20 mEq (about 20 mmol)".
JOINING: Final = frozenset(
    {
        *(
            "or",
            "i",
            "e",
            "is",
            "to",
            "that",
            "about",
            "approx",
            "approximately",
            "equals",
            "equal",
        ),
        *("equivalent", "corresponding", "corresponds", "calc", "calculated", "theoretical", "of"),
        *("which", "provides", "providing", "and", "nominal", "range", "typical", "typically"),
    }
)


@dataclass(frozen=True, slots=True)
class Value:
    """One number. unit, basis_ml: its own, empty and None where it has none. at_most: a bound.

    strange: the words before it, when it is of something the label's reader does not know.
    """

    number: str
    lower: str = ""
    upper: str = ""
    unit: str = ""
    basis_ml: float | None = None
    at_most: bool = False
    strange: str = ""


@dataclass(frozen=True, slots=True)
class Values:
    """What a piece holds. left: numbers that belong to none of them, as written."""

    found: tuple[Value, ...]
    left: tuple[str, ...] = ()


def values_of(part: list[Token]) -> Values:
    """The values of one piece, in order. A range behind a value is that value's range; a volume
    at the end is that of all before it.
    """
    found: list[Value] = []
    left: list[str] = []
    words: list[str] = []
    unit, place = "", 0
    while place < len(part):
        token, value = part[place], _value_at(part, place)
        if value is not None:
            value = replace(value, strange=_strange(words) if found else "")
            _take(value, found, left)
            words, place = [], place + (3 if value.lower else 1)
            continue
        if token.kind == "unit":
            unit = _with_unit(token, found, unit)
        elif token.kind == "basis" and found and found[-1].basis_ml is None:
            found[-1] = replace(found[-1], basis_ml=float(token.value))
        elif token.kind == "text":
            words.append(token.value)
        place += 1
    # "mmol/L 130": what stands in front is of the value that has none.
    found = [replace(one, unit=one.unit or unit) for one in found]
    return Values(tuple(_with_last_basis(found, part)), tuple(left))


def _value_at(part: list[Token], place: int) -> Value | None:
    """The number or range that begins here; None for what is no number, and for a lower bound."""
    token = part[place]
    if token.kind != "number" or token.value.startswith(AT_LEAST):
        return None
    upper = _upper_end(part[place + 1 : place + 3])
    if upper and token.value[0] != AT_MOST:
        return Value(token.value, lower=token.value, upper=upper)
    return Value(token.value.removeprefix(AT_MOST), at_most=token.value.startswith(AT_MOST))


def _upper_end(ends: list[Token]) -> str:
    """What follows a number as the other end of its range; empty where nothing does."""
    for middle, last in pairwise(ends):
        if middle.value in RANGE_WORDS and last.kind == "number" and last.value[0].isdigit():
            return last.value
    return ""


def _take(value: Value, found: list[Value], left: list[str]) -> None:
    """Add a value, or its range to the value before; a second bare number belongs to nothing."""
    if value.lower and found and not found[-1].lower and not value.strange:
        found[-1] = replace(found[-1], lower=value.lower, upper=value.upper)
    elif found and not found[-1].unit and not value.lower and not value.strange:
        left.append(value.number)
    else:
        found.append(value)


def _with_unit(token: Token, found: list[Value], unit: str) -> str:
    if not found:
        return token.value
    if not found[-1].unit:
        found[-1] = replace(found[-1], unit=token.value)
    return unit


def _strange(words: Iterable[str]) -> str:
    """Words between two values that name something else."""
    return " ".join(one for one in words if one.isalpha() and len(one) > 1 and one not in JOINING)


def _with_last_basis(found: list[Value], part: list[Token]) -> list[Value]:
    bases = [float(token.value) for token in part if token.kind == "basis"]
    if not bases or len(bases) > 1:
        return found
    return [one if one.basis_ml is not None else replace(one, basis_ml=bases[0]) for one in found]


def left_out(part: list[Token]) -> bool:
    """Whether a number of the piece is a lower bound, which no figure of ours can be."""
    return any(token.value.startswith(AT_LEAST) for token in part)
