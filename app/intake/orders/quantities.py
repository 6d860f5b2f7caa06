"""Amounts with their units: in all, in each litre, in an ampoule, a day."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

UNITS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("mmol", "mmols", "mmole", "mmoles", "millimol", "millimole", "millimoles"),
                    "mmol"),
    **dict.fromkeys(("meq", "meqs", "mequiv", "milliequivalent", "milliequivalents"), "mEq"),
    "g": "g", "gm": "g", "gms": "g", "gram": "g", "grams": "g", "mg": "mg", "mgs": "mg",
    "mcg": "mcg", "ug": "mcg", "microgram": "mcg", "micrograms": "mcg", "milligrams": "mg",
    "ml": "mL", "mls": "mL", "cc": "mL", "unit": "unit", "units": "unit", "iu": "unit", "u": "unit",
    "l": "L", "litre": "L", "liter": "L", "litres": "L", "liters": "L", "%": "%", "percent": "%",
    **dict.fromkeys(("amp", "amps", "ampoule", "ampoules", "ampule", "ampules", "ampul", "ampuls",
                     "vial", "vials"), "ampoule"),
}  # fmt: skip
AMOUNTS: Final = ("mmol", "mEq", "g", "mg", "mcg", "unit", "ampoule")
NUMBER: Final = re.compile(r"\d+(?:\.\d+)?|\.\d+")
LITRE: Final = frozenset({"l", "litre", "liter", "litres", "liters"})
PER: Final = frozenset({"/", "per", "each"})
ML_PER_L: Final = 1000.0
# "20 mmol/10 mL" is an ampoule's strength, "20 mmol/500 mL" that of a bag.
AMPOULE_TO_ML: Final = 20.0
BAG_OF_DOSE: Final = re.compile(
    r"\d\s*(?:mmols?|meqs?|g|grams?|mg|units?|iu)\s*(?:/|\bper\b|\bin\b)\s*(\d{2,4})\s*(?:mls?|cc)\b"
)
DAY: Final = frozenset({"day", "d", "24h", "daily"})
PERCENT_PER_MG_ML: Final = 0.1
PERCENT_PER_G_L: Final = 0.1


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit ("" when none is written).

    per_litre: an amount in each litre. in_ml: an amount in so many mL of an ampoule. by_day: an
    amount a day, "kg" for each kg of weight. by_kg: an amount for each kg, once. in_each: an
    amount in each ampoule. bag_ml: the bag that an amount in each litre was written for.
    """

    number: float
    unit: str
    per_litre: bool = False
    in_ml: float | None = None
    by_day: Literal["", "whole", "kg"] = ""
    by_kg: bool = False
    in_each: bool = False
    bag_ml: float | None = None

    @property
    def percent(self) -> float | None:
        """The strength that it states as a percent; None when it states none."""
        if self.unit == "mg" and self.in_ml:
            return round(self.number / self.in_ml * PERCENT_PER_MG_ML, 4)
        if self.unit == "g" and self.per_litre:
            return round(self.number * PERCENT_PER_G_L, 4)
        return None


def quantity_at(words: tuple[str, ...], at: int) -> tuple[Quantity | None, int]:
    """A quantity standing at a place, and how many words it takes."""
    if not NUMBER.fullmatch(words[at]):
        return None, 1
    number = float(words[at])
    unit = UNITS.get(words[at + 1], "") if at + 1 < len(words) else ""
    end = at + (2 if unit else 1)
    if unit not in (*AMOUNTS, "", "mL") or end + 1 >= len(words) or words[end] not in PER:
        return Quantity(number, unit), end - at
    if unit in ("", "mL"):
        return _of_no_amount(Quantity(number, unit), words[end + 1], end - at)
    quantity, used = _per(number, unit, words, end)
    return quantity, used - at


def _per(number: float, unit: str, words: tuple[str, ...], end: int) -> tuple[Quantity, int]:
    """An amount with what it is per, and the place behind it; end: where "per" stands."""
    per = words[end + 1]
    if per in LITRE:
        return Quantity(number, unit, per_litre=True), end + 2
    by_day = _by_day(words[end + 1 : end + 4])
    if by_day:
        return Quantity(number, unit, by_day=by_day), end + (2 if by_day == "whole" else 4)
    other = _for_each(number, unit, words, end)
    if other:
        return other, end + 2
    volume, used = quantity_at(words, end + 1) if NUMBER.fullmatch(per) else (Quantity(1, per), 1)
    in_ml = _in_ml(volume)
    if in_ml is None:
        return Quantity(number, unit), end
    if in_ml <= AMPOULE_TO_ML:
        return Quantity(number, unit, in_ml=in_ml), end + 1 + used
    per_litre = Quantity(number * ML_PER_L / in_ml, unit, per_litre=True, bag_ml=in_ml)
    return per_litre, end + 1 + used


def _of_no_amount(quantity: Quantity, per: str, used: int) -> tuple[Quantity, int]:
    """A number or a volume with what it is per: "KCl 20/L", "10 mL/amp"; as it is for all else."""
    if not quantity.unit and per in LITRE:
        return replace(quantity, per_litre=True), used + 2
    if quantity.unit and UNITS.get(per) == "ampoule":
        return replace(quantity, in_each=True), used + 2
    return quantity, used


def _for_each(number: float, unit: str, words: tuple[str, ...], end: int) -> Quantity | None:
    """An amount for each kg ("1 g/kg", but not "1 g/kg/h") or in each ampoule ("50 mEq/amp")."""
    per, then = words[end + 1], words[end + 2 : end + 3]
    if per == "kg" and then not in (("/",), ("per",)):
        return Quantity(number, unit, by_kg=True)
    return Quantity(number, unit, in_each=True) if UNITS.get(per) == "ampoule" else None


def bag_of_dose(text: str) -> float | None:
    """The bag's volume where a name gives only "20 mEq/100 mL"; an ampoule's is no bag's."""
    match = BAG_OF_DOSE.search(text.lower())
    volume_ml = float(match[1]) if match else 0.0
    return volume_ml if volume_ml > AMPOULE_TO_ML else None


def _by_day(words: tuple[str, ...]) -> Literal["", "whole", "kg"]:
    if words[:1] and words[0] in DAY:
        return "whole"
    by_kg = len(words) > 2 and words[0] == "kg" and words[1] in PER and words[2] in DAY  # noqa: PLR2004 - "kg", "/", "day"
    return "kg" if by_kg else ""


def _in_ml(volume: Quantity | None) -> float | None:
    unit = UNITS.get(volume.unit, volume.unit) if volume else ""
    if volume is None or unit not in ("mL", "L") or not volume.number:
        return None
    return volume.number * (ML_PER_L if unit == "L" else 1)
