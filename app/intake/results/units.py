"""Units of results in the spellings of laboratories and people."""

import re
from functools import lru_cache
from typing import Final

from app.chemistry.clinical_units import canonical_unit
from app.chemistry.errors import UnitError
from app.intake.vocabulary import fold

# A result is a concentration, so the volume may be left out; osmolarity stands for osmolality.
LEFT_OUT: Final = {
    "mmol": "mmol/L", "umol": "umol/L", "micromol": "umol/L", "meq": "mEq/L", "mosm": "mosm/kg",
    "mosm/l": "mosm/kg", "mosmol/l": "mosm/kg", "mosmol": "mosm/kg", "gm%": "g/dL", "gms%": "g/dL",
    "mgs%": "mg/dL", "c": "Cel", "°c": "Cel", "degc": "Cel", "celsius": "Cel", "iu": "U/L",
    "u": "U/L", "ml/24h": "mL/day", "ml/24hr": "mL/day", "ml/24hrs": "mL/day", "%": "%",
    "fraction": "L/L", "volumefraction": "L/L", "vol%": "%", "vol.%": "%", "%vol": "%",
}  # fmt: skip
# Said where there is no unit, or none was to be had.
NO_UNIT: Final = frozenset({"none", "unitless", "nounit", "nounits", "dimensionless"})
PER_UNIT: Final = re.compile(r"(?:\s|\.|\*)?(l|dl|kg|min|h|g)\s?(?:\^?-1)$")
PARTS: Final = (
    (re.compile(r"\bmilli ?mol(?:e?s)?\b"), "mmol"), (re.compile(r"\bmeqs\b"), "meq"),
    (re.compile(r"\bmicro ?mol(?:e?s)?\b"), "umol"), (re.compile(r"\bmcmol\b"), "umol"),
    (re.compile(r"\b(mmol|umol|mcmol)(?:e?s)\b"), r"\1"),
    (re.compile(r"\bmgs\b"), "mg"), (re.compile(r"\bgms?\b"), "g"),
    (re.compile(r"\s*\bper\b\s*|\s*/\s*"), "/"), (re.compile(r"\blit(?:re|er)s?\b|\bltr\b"), "l"),
    (re.compile(r"\bdecilit(?:re|er)s?\b"), "dl"), (re.compile(r"\bmosmols?\b"), "mosmol"),
)  # fmt: skip


@lru_cache(maxsize=512)
def unit_of_result(written: str) -> tuple[str, str]:
    """The unit a spelling means, or the spelling where it means none, and what was assumed.

    A unit all in capitals comes from a system that has no small letters; a capital M before small
    ones would be mega, and stays as it is.
    """
    text = written.strip()
    if text == "mM":
        return "mmol/L", ""
    if fold(text).replace(" ", "") in NO_UNIT:
        return "", ""
    capitals = text.isupper() and len(text) > 1
    plain = _plain(text.lower() if capitals else text)
    if text[:1] == "M" and not capitals:
        return text, ""
    plain = LEFT_OUT.get(plain.replace(" ", ""), plain)
    try:
        unit = canonical_unit(plain)
    except UnitError:
        return text, ""
    return unit, f"{text} read as {unit}" if capitals and text[0] == "M" else ""


def is_unit(written: str) -> bool:
    """True for a spelling that means a unit of a result."""
    text = _plain(written)
    try:
        canonical_unit(LEFT_OUT.get(text.replace(" ", ""), text))
    except UnitError:
        return False
    return True


def _plain(text: str) -> str:
    plain = PER_UNIT.sub(r"/\1", fold(text))
    for pattern, short in PARTS:
        plain = pattern.sub(short, plain)
    return plain
