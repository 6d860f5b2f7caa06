"""What is told of stock, in words for a page."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from sqlalchemy.orm import Session

from app.catalogue.fluid import Fluid
from app.catalogue.stock.stock import NOTHING_TOLD, Stock, StockState
from app.review.workflow import now_in
from app.storage.patients import read_unit
from app.storage.stock import read_stock
from app.web.show import capital, clock, sentence

NEVER: Final = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class StockView:
    """One fluid's state. words: with since when, empty when nobody told; why: the reason and who
    told it; gone: it cannot be had.
    """

    words: str = ""
    why: str = ""
    gone: bool = False


@dataclass(frozen=True, slots=True)
class Shelf:
    """Everything told of stock, as a page made at this moment says it."""

    stock: Stock = NOTHING_TOLD
    now: datetime = NEVER

    def view(self, fluid_id: str) -> StockView:
        """Where one fluid is."""
        return stock_view(self.stock.of(fluid_id), self.now)


def shelf_of(session: Session) -> Shelf:
    """What is told of stock now, at the unit's own moment."""
    return Shelf(read_stock(session), now_in(read_unit(session)))


def stock_view(state: StockState, now: datetime) -> StockView:
    """One state in words: "out since 05:40", "in pharmacy since Mon 3 Mar 15:10"."""
    why = sentence(state.note)
    if state.by:
        why = f"{why} {sentence(f'told by {state.by}')}".strip()
    if not state.is_known:
        return StockView(why=why)
    words = f"{state.state} since {clock(state.since, now)}"
    return StockView(words, why, gone=not state.may_be_offered)


def lack_words(fluid: Fluid | None, stock: Stock, now: datetime) -> str:
    """What to know of an ordered fluid that is out or withdrawn; empty when it may be had."""
    if fluid is None or stock.may_offer(fluid.id):
        return ""
    state = stock.of(fluid.id)
    words = f"{capital(fluid.name)}: {stock_view(state, now).words}."
    return f"{words} {sentence(state.note)}".strip()
