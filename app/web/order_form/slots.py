"""A place for a message beside each field; always there, so that a part can fill or clear it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.web.order_form.form import ADDITIVE, CO_INFUSION, INSTEAD, ORDER_FIELDS, SINGLE, Typed

START_ROWS: Final = 2


@dataclass(frozen=True, slots=True)
class Slot:
    """One field's message, empty while there is none."""

    id: str
    message: str


@dataclass(frozen=True, slots=True)
class RowCounts:
    """How many rows of additives and of other infusions the page shows."""

    additives: int
    co_infusions: int


def row_counts(form: Typed, *, whole: bool) -> RowCounts:
    """Rows to draw: on a whole page one more than are filled; for a part those that were sent."""
    if not whole:
        return RowCounts(form.sent_additives, form.sent_co_infusions)
    return RowCounts(
        max(START_ROWS, len(form.additives) + 1), max(START_ROWS, len(form.co_infusions) + 1)
    )


def slots_of(messages: Mapping[str, str], rows: RowCounts, *, picked: bool) -> dict[str, Slot]:
    """Every slot the page has, by field; a row has one for all its fields.

    picked: the patient is the unit's, so that only the order is typed.
    """
    names = [n for n in SINGLE if _is_drawn(n, picked=picked)]
    names += [f"additive_{place}" for place in range(rows.additives)]
    names += [f"with_{place}" for place in range(rows.co_infusions)]
    by_slot = {slot_name(name): text for name, text in messages.items()}
    return {name: Slot(f"error-{name}", by_slot.get(name, "")) for name in names}


def _is_drawn(name: str, *, picked: bool) -> bool:
    """Whether the page has this field at all, with a slot of its own."""
    if picked:
        return name in (*ORDER_FIELDS, INSTEAD)
    return name not in ("lumen", INSTEAD) and not name.startswith("unit_")


def slot_name(name: str) -> str:
    """The slot a field's message goes to."""
    word, _, place = name.rpartition("_")
    if place.isdigit() and word in ADDITIVE:
        return f"additive_{place}"
    return f"with_{place}" if place.isdigit() and word in CO_INFUSION else name
