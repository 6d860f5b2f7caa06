"""What the words of parenteral nutrition say it holds: "sodium 80 mmol, glucose 250 g"."""

import re
from typing import Any, Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.intake.vocabulary import fold

G_PER_100_ML_IN_A_LITRE: Final = 10.0
PARTS: Final = re.compile(r"[,;()]|\band\b|\bwith\b|\+")
AMOUNT: Final = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?)\s*(mmol|g|%)(?![a-z])(\s*(?:/|per)\s*l\b)?")
HELD: Final = (
    ("sodium_mmol_l", re.compile(r"\b(?:sodium|na)\b")),
    ("potassium_mmol_l", re.compile(r"\b(?:potassium|k)\b")),
    ("chloride_mmol_l", re.compile(r"\b(?:chloride|cl)\b")),
    ("calcium_mmol_l", re.compile(r"\b(?:calcium|ca)\b")),
    ("magnesium_mmol_l", re.compile(r"\bmagnesium\b")),
    ("phosphate_mmol_l", re.compile(r"\b(?:phosphate|po4)\b")),
    ("glucose_g_l", re.compile(r"\b(?:glucose|dextrose)\b")),
)


def stated_contents(text: str, volume_ml: float | None) -> Composition | None:
    """What nutrition of this volume holds in total, mmol or g; None when its words do not say.

    One amount and one name are read from each part between commas. An amount for each litre, or
    in percent, needs the volume and is left out without it.
    """
    held: dict[str, Any] = {}
    for part in PARTS.split(fold(text)):
        names = [name for name, pattern in HELD if pattern.search(part)]
        amounts = AMOUNT.findall(part)
        if len(names) != 1 or len(amounts) != 1:
            continue
        number, unit, per_litre = amounts[0]
        total = _total(float(number), unit, bool(per_litre), volume_ml)
        if total is not None and (unit == "mmol") == names[0].endswith("mmol_l"):
            held[names[0]] = total
    return Composition(**held) if held else None


def _total(amount: float, unit: str, per_litre: bool, volume_ml: float | None) -> float | None:
    if unit != "%" and not per_litre:
        return amount
    if volume_ml is None:
        return None
    per_l = amount * G_PER_100_ML_IN_A_LITRE if unit == "%" else amount
    return per_l * volume_ml / ML_PER_L
