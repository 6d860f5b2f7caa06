"""What a person counted, from a form or a file, told field by field if wrong."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counts import PLACES, BagCount, Place

# More of one size than this in one place is a slip of the finger (common practice, no source).
MOST_BAGS: Final = 9999
WHOLE: Final = re.compile(r"\d{1,6}", re.ASCII)
ACCEPTED_BAGS: Final = (
    f"whole bags from 0 to {MOST_BAGS:,}, a number alone: no unit, no sign, no decimals"
)
NOTHING: Final = "at least one number of bags; 0 where none was found"
KEYS: Final = frozenset({"fluid", "size_ml", "place", "bags", "at", "by"})


def counts_from(
    typed: Mapping[str, str], fluid: Fluid, at: datetime, by: str
) -> tuple[BagCount, ...]:
    """What a form counts of one fluid: fields "bags-SIZE-PLACE", an empty one is not counted.

    Raises EntryError naming the first wrong field, or that nothing was counted.
    """
    counts = tuple(_counted(typed, fluid, at, by))
    if not counts:
        raise EntryError("bags", "", NOTHING)
    return counts


def field_of(size_ml: int, place: Place) -> str:
    """The field of a form in which one size in one place is counted."""
    return f"bags-{size_ml}-{place}"


def _counted(typed: Mapping[str, str], fluid: Fluid, at: datetime, by: str) -> Iterator[BagCount]:
    for size in fluid.pack_sizes_ml:
        for place in PLACES:
            field = field_of(size, place)
            text = typed.get(field, "").strip()
            if text:
                yield BagCount(fluid.id, size, place, _bags(field, text), at, by)


def _bags(field: str, text: str) -> int:
    bags = int(text) if WHOLE.fullmatch(text) else -1
    if not 0 <= bags <= MOST_BAGS:
        raise EntryError(field, text, ACCEPTED_BAGS)
    return bags


def counts_in(file: Mapping[str, Any], catalogue: Catalogue) -> tuple[BagCount, ...]:
    """What a file (parsed TOML) counts. Raises EntryError naming entry and field."""
    if set(file) - {"counted"}:
        raise EntryError(sorted(set(file) - {"counted"})[0], "unknown field", "[[counted]] only")
    counts: dict[tuple[str, int, Place], BagCount] = {}
    for number, entry in enumerate(file.get("counted", ())):
        try:
            one = _entry(entry, catalogue)
        except EntryError as error:
            field = f"counted[{number}].{error.field}"
            raise EntryError(field, error.value, error.accepted) from error
        key = (one.fluid_id, one.size_ml, one.place)
        if key in counts:
            raise EntryError(f"counted[{number}].fluid", one.fluid_id, "each size and place once")
        counts[key] = one
    return tuple(counts.values())


def _entry(entry: Mapping[str, Any], catalogue: Catalogue) -> BagCount:
    for key in entry:
        if key not in KEYS:
            raise EntryError(key, "unknown field", ", ".join(sorted(KEYS)))
    fluid = catalogue.get(str(entry.get("fluid")))
    if fluid is None:
        raise EntryError("fluid", entry.get("fluid"), "the id of a fluid in the catalogue")
    size, at = entry.get("size_ml"), entry.get("at")
    if size not in fluid.pack_sizes_ml:
        raise EntryError("size_ml", size, f"one of {', '.join(map(str, fluid.pack_sizes_ml))}")
    if not isinstance(at, datetime) or at.tzinfo is None:
        raise EntryError("at", at, "a date and time with its offset")
    bags = _bags("bags", str(entry.get("bags")))
    return BagCount(fluid.id, int(size), _place(entry), bags, at, str(entry.get("by", "")))


def _place(entry: Mapping[str, Any]) -> Place:
    for place in PLACES:
        if entry.get("place") == place:
            return place
    raise EntryError("place", entry.get("place"), ", ".join(PLACES))
