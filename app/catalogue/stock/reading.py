"""What a person tells of a fluid's stock, from a form or a file, told field by field if wrong."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.stock.stock import STATES, StockState

LONGEST_NOTE: Final = 200
LONGEST_NAME: Final = 60
# Whoever stands before an empty shelf needs to know why and until when.
NEEDS_A_NOTE: Final = ("short", "out", "withdrawn")
KEYS: Final = frozenset({"fluid", "state", "since", "note", "by"})


def state_from(entry: Mapping[str, Any], since: datetime) -> StockState:
    """One thing told: state, note and by. Raises EntryError naming the first wrong field."""
    for state in STATES:
        if entry.get("state") == state:
            break
    else:
        raise EntryError("state", entry.get("state"), ", ".join(STATES))
    note = _text(entry, "note", LONGEST_NOTE)
    if state in NEEDS_A_NOTE and not note:
        raise EntryError("note", note, f"why it is {state}, in a few words")
    return StockState(state, since, note, _text(entry, "by", LONGEST_NAME))


def _text(entry: Mapping[str, Any], field: str, longest: int) -> str:
    value = entry.get(field, "")
    text = " ".join(value.split()) if isinstance(value, str) else None
    if text is None or len(text) > longest or not text.isprintable():
        raise EntryError(field, value, f"a text of at most {longest} letters, or nothing")
    return text


def stock_from(file: Mapping[str, Any], catalogue: Catalogue) -> Mapping[str, StockState]:
    """What a file (parsed TOML) tells, by fluid id. Raises EntryError naming entry and field."""
    if set(file) - {"told"}:
        raise EntryError(sorted(set(file) - {"told"})[0], "unknown field", "[[told]] entries only")
    told: dict[str, StockState] = {}
    for number, entry in enumerate(file.get("told", ())):
        try:
            fluid_id, state = _entry(entry, catalogue)
        except EntryError as error:
            field = f"told[{number}].{error.field}"
            raise EntryError(field, error.value, error.accepted) from error
        if fluid_id in told:
            raise EntryError(f"told[{number}].fluid", fluid_id, "each fluid once")
        told[fluid_id] = state
    return MappingProxyType(told)


def _entry(entry: Mapping[str, Any], catalogue: Catalogue) -> tuple[str, StockState]:
    for key in entry:
        if key not in KEYS:
            raise EntryError(key, "unknown field", ", ".join(sorted(KEYS)))
    fluid = catalogue.get(str(entry.get("fluid")))
    if fluid is None:
        raise EntryError("fluid", entry.get("fluid"), "the id of a fluid in the catalogue")
    since = entry.get("since")
    if not isinstance(since, datetime) or since.tzinfo is None:
        raise EntryError("since", since, "a date and time with its offset")
    return fluid.id, state_from(entry, since)
