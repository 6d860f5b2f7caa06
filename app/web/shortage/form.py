"""The form of a rehearsal: what is in use, what is picked, and what was not accepted."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.stock.counts import Counts
from app.review.shortage.asked import Asked
from app.review.shortage.loss import SIZE_MARK, USUAL_DAYS
from app.review.shortage.rehearsal import Unit
from app.web.shortage.totals import UseRow, use_row
from app.web.shortage.words import lost_name

LABELS: Final[Mapping[str, str]] = {
    "lost": "What is lost", "add": "Another fluid or size", "share": "How much of deliveries",
    "from": "From when", "days": "Plan for",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pick:
    """One thing that may be picked as lost: its key in the address, and its words."""

    key: str
    words: str
    picked: bool


@dataclass(frozen=True, slots=True)
class InUse:
    """One fluid in use with what may be picked of it, the whole fluid first."""

    row: UseRow
    picks: tuple[Pick, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """The form as it was sent. others: what is picked and not in use. faults: message by field."""

    used: tuple[InUse, ...]
    others: tuple[Pick, ...]
    names: tuple[str, ...]
    typed: Mapping[str, str]
    ticked: frozenset[str]
    faults: Mapping[str, str]
    usual_days: int = USUAL_DAYS


def form_of(
    asked: Asked, unit: Unit[str], catalogue: Catalogue, counts: Counts, now: datetime
) -> Form:
    """The form: what is in use first, the most used on top."""
    used = tuple(_in_use(use_row(use, counts, now), asked.picked) for use in unit.use.values())
    listed = {pick.key for one in used for pick in one.picks}
    others = tuple(
        Pick(key, lost_name(key, fluid), picked=True)
        for key in asked.picked
        if key not in listed and (fluid := catalogue.get(key.partition(SIZE_MARK)[0])) is not None
    )
    names = [fluid.name for fluid in catalogue]
    return Form(
        used, others, tuple(sorted(names)), asked.typed, asked.ticked, faults_of(asked.faults)
    )  # fmt: skip


def _in_use(row: UseRow, picked: tuple[str, ...]) -> InUse:
    return InUse(row, tuple(Pick(key, words, key in picked) for key, words in row.keys))


def faults_of(faults: Iterable[EntryError]) -> Mapping[str, str]:
    """Field, value and what is accepted: one sentence beside each field."""
    told = {
        one.field: f"{LABELS[one.field]}: “{one.value}” is not accepted. Accepted: {one.accepted}."
        for one in faults
    }
    return {name: told.get(name, "") for name in LABELS}
