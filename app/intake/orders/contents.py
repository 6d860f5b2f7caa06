"""What the words of parenteral nutrition say it holds: "sodium 80 mmol, glucose 250 g"."""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any, Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.intake.vocabulary import fold

G_PER_100_ML_IN_A_LITRE: Final = 10.0
PARTS: Final = re.compile(r"[,;()]|\band\b|\bwith\b|\s\+\s")
AMOUNT: Final = (
    r"(?<![\d.])(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>mmol|meq|g|%)(?![a-z])"
    r"(?P<per>\s*(?:/|per)\s*(?:kg|l\b|litre|liter))?"
)
HELD: Final = {
    "sodium_mmol_l": r"sodium|na\+?", "potassium_mmol_l": r"potassium|k\+?",
    "chloride_mmol_l": r"chloride|cl-?", "calcium_mmol_l": r"calcium|ca(?:2?\+\+?)?",
    "magnesium_mmol_l": r"magnesium|mg(?=\s*[:=]?\s*\d+(?:\.\d+)?\s*(?:mmol|meq))",
    "phosphate_mmol_l": r"phosphate|phos|po4", "glucose_g_l": r"glucose|dextrose",
    # Named so that their amount is given to nothing else.
    "": r"amino ?acids?|nitrogen|protein|lipids?|fat|acetate|zinc|selenium|trace elements?",
}  # fmt: skip
WORD: Final = re.compile(
    AMOUNT + "|" + "|".join(
        rf"(?<![a-z0-9])(?P<n{number}>{names})(?![a-z0-9])"
        for number, names in enumerate(HELD.values())
    )
)  # fmt: skip
NAMES: Final = tuple(HELD)
TWICE_CHARGED: Final = ("calcium_mmol_l", "magnesium_mmol_l")
CHARGED_AS_PH_HAS_IT: Final = "phosphate_mmol_l"
Amount = tuple[float, str, str]


def stated_contents(text: str, volume_ml: float | None) -> Composition | None:
    """What nutrition of this volume holds in total, mmol or g; None when its words do not say.

    Each amount goes with the name it stands beside. An amount for each litre, or in percent, needs
    the volume and is left out without it; one for each kilogram is left out.
    """
    held: dict[str, Any] = {}
    for part in PARTS.split(fold(text)):
        for name, amount in _pairs(part):
            total = _total(name, amount, volume_ml)
            if name and total is not None:
                held[name] = total
    return Composition(**held) if held else None


def _pairs(part: str) -> Iterator[tuple[str, Amount]]:
    """Names with their amounts; which comes first is as in the part's first pair."""
    words = [_word(match) for match in WORD.finditer(part)]
    names, amounts = [[w for w in words if isinstance(w, kind)] for kind in (str, tuple)]
    if len(names) == 1 == len(amounts):
        words = [*names, *amounts]
    elif words and isinstance(words[0], tuple):
        words.reverse()
    for first, second in pairwise(words):
        if isinstance(first, str) and isinstance(second, tuple):
            yield first, second


def _word(match: re.Match[str]) -> str | Amount:
    if match["number"]:
        return float(match["number"]), match["unit"], (match["per"] or "").strip(" /per")
    return next(name for number, name in enumerate(NAMES) if match[f"n{number}"])


def _total(name: str, amount: Amount, volume_ml: float | None) -> float | None:
    number, unit, per = amount
    counted = unit in ("mmol", "meq")
    if counted != name.endswith("mmol_l") or per == "kg":
        return None
    if unit == "meq":
        if name == CHARGED_AS_PH_HAS_IT:
            return None
        number = number / 2 if name in TWICE_CHARGED else number
    if unit != "%" and not per:
        return number
    if volume_ml is None:
        return None
    per_l = number * G_PER_100_ML_IN_A_LITRE if unit == "%" else number
    return per_l * volume_ml / ML_PER_L
