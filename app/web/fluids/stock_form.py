"""A card's stock: where the fluid is, what was told before, and the form that tells it anew."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from sqlalchemy.orm import Session

from app.catalogue.entry import EntryError
from app.catalogue.stock.reading import LONGEST_NOTE
from app.catalogue.stock.stock import STATES
from app.storage.stock import read_told_of
from app.web.fluids.shelf import Shelf, StockView, stock_view

EARLIER_SHOWN: Final = 5
LABELS: Final = {"state": "Where it is", "note": "Why", "by": "Told by"}


@dataclass(frozen=True, slots=True)
class Choice:
    """One state to choose."""

    value: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class StockCard:
    """Everything the card says of stock. typed: the form's fields as sent; fault: the field that
    was not accepted, and the message beside it; teller: who would tell, empty where whoever reads
    may not.
    """

    now: StockView
    earlier: tuple[StockView, ...]
    choices: tuple[Choice, ...]
    typed: Mapping[str, str] = field(default_factory=dict)
    fault: tuple[str, str] = ("", "")
    longest_note: int = LONGEST_NOTE
    teller: str = ""


def stock_card(
    session: Session,
    fluid_id: str,
    shelf: Shelf,
    typed: Mapping[str, str] | None = None,
    fault: EntryError | None = None,
) -> StockCard:
    """A fluid's stock as told so far, and the form; as it was typed when it was not accepted."""
    told = read_told_of(session, fluid_id, EARLIER_SHOWN + 1)
    state = shelf.stock.of(fluid_id).state if typed is None else typed.get("state", "")
    return StockCard(
        now=shelf.view(fluid_id),
        earlier=tuple(stock_view(one, shelf.now) for one in told[1:]),
        choices=tuple(Choice(one, one == state) for one in STATES),
        typed={name: (typed or {}).get(name, "") for name in LABELS},
        fault=("", "") if fault is None else (fault.field, message(fault)),
    )


def message(fault: EntryError) -> str:
    """Field, value and what is accepted: one sentence beside the field."""
    name = LABELS[fault.field]
    if not fault.value:
        return f"{name}: nothing is written. Accepted: {fault.accepted}."
    return f"{name}: “{fault.value}” is not accepted. Accepted: {fault.accepted}."
