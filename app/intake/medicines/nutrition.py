"""What the words of parenteral nutrition say of it: free of an ion, and its osmolarity."""

import re
from typing import Final

ION: Final = (
    r"(?P<{}>calcium|ca(?:2?\+\+?)?|potassium|k\+?|phosphate|po4|magnesium|mg|electrolytes?|lytes)"
)
FREE_OF: Final = re.compile(
    rf"\b{ION.format('first')}[- ]free\b"
    rf"|(?:\b(?:no|nil|without|zero|sans)\b|\bw/o)\s*(?:added )?{ION.format('second')}(?![a-z0-9])"
    rf"|(?<!\d)(?<!\d )\b{ION.format('third')}\s*(?:=|:)?\s*(?:nil|none|zero|0)(?![.\d])"
    r"(?:\s*mmol(?:\s*/\s*l)?)?"
)
IONS: Final = {
    "ca": "calcium", "k": "potassium", "po4": "phosphate", "mg": "magnesium",
}  # fmt: skip
OF_ELECTROLYTES: Final = frozenset({"calcium", "potassium", "phosphate", "magnesium"})
NUMBER: Final = r"(\d{1,2},\d{3}|\d+(?:\.\d+)?)"
OSMOLARITY: Final = re.compile(
    rf"{NUMBER}\s*m\s?osm(?:ol|ole|oles)?\b(?!\s*/\s*kg\s*/)"
    rf"|\b(?:osm(?:olarity|olality)?)\s*(?:of|=|:|is|about|approx\.?|~)*\s*{NUMBER}"
)


def free_of(plain: str) -> set[str]:
    """The ions that folded words deny: "calcium-free", "no K", "w/o electrolytes"."""
    free: set[str] = set()
    for match in FREE_OF.finditer(plain):
        ion = next(filter(None, match.groups())).rstrip("+2")
        if ion.endswith("lytes") or ion.endswith("lyte"):
            free |= OF_ELECTROLYTES
        else:
            free.add(IONS.get(ion, ion))
    return free


def osmolarity_in(text: str) -> float | None:
    """The osmolarity that words state, mOsm/L: 1200 of "TPN 1,200 mOsm/L"; None when none."""
    match = OSMOLARITY.search(text.lower())
    return float((match[1] or match[2]).replace(",", "")) if match else None
