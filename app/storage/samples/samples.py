"""Samples and marks in the database: rows are only ever added."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Final, Literal

from sqlalchemy import func, insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.storage.samples.tables import SampleItemRow, SampleMarkRow, SampleRow

Verdict = Literal["useful", "not useful", "wrong"]
VERDICTS: Final[tuple[Verdict, ...]] = ("useful", "not useful", "wrong")
MARKED_BY: Final = 2


class MarkedAlready(Exception):
    """This person has marked it, or two others have."""

    def __str__(self) -> str:
        return "This finding has been marked by you already, or by two others meanwhile."


@dataclass(frozen=True, slots=True)
class Mark:
    """What one person says of one finding."""

    verdict: Verdict
    reason: str
    at: datetime
    by: str
    account_id: str


@dataclass(frozen=True, slots=True)
class Item:
    """One past finding to be looked at, with what was said of it so far, oldest first.

    told: title, why and do, as they were shown.
    """

    id: int
    sample_id: int
    number: int
    past_id: int
    rule_id: str
    order_ids: tuple[str, ...]
    level: str
    told: Mapping[str, Any]
    marks: tuple[Mark, ...] = ()

    @property
    def is_marked(self) -> bool:
        """True once two people have: only then does either see the other's mark."""
        return len(self.marks) >= MARKED_BY

    def mark_of(self, account_id: str) -> Mark | None:
        """This person's mark."""
        return next((mark for mark in self.marks if mark.account_id == account_id), None)

    def may_be_marked_by(self, account_id: str) -> bool:
        """Once by each person, and by two in all."""
        return not self.is_marked and self.mark_of(account_id) is None


@dataclass(frozen=True, slots=True)
class Sample:
    """One sample. rule_id: empty when drawn from all rules."""

    id: int
    count_id: int
    seed: str
    rule_id: str
    drawn_at: datetime
    by: str
    items: tuple[Item, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sample to be kept, and who drew it."""

    count_id: int
    seed: str
    rule_id: str
    at: datetime
    by: str
    account_id: str
    items: tuple[Mapping[str, Any], ...] = field(default=())


def add_sample(session: Session, drawn: Drawn) -> int:
    """Keep a sample with its findings, numbered in the order drawn; its number."""
    row = SampleRow(
        count_id=drawn.count_id, seed=drawn.seed, rule_id=drawn.rule_id, drawn_at=drawn.at,
        by=drawn.by, account_id=drawn.account_id,
    )  # fmt: skip
    session.add(row)
    session.flush()
    items = [
        {"sample_id": row.id, "number": number, **item}
        for number, item in enumerate(drawn.items, start=1)
    ]
    session.execute(insert(SampleItemRow), items)
    return row.id


def add_mark(session: Session, item_id: int, mark: Mark) -> None:
    """Keep what one person says. Raises MarkedAlready where it may not be said (any more)."""
    others = select(SampleMarkRow.account_id).where(SampleMarkRow.item_id == item_id)
    marked_by = session.scalars(others).all()
    if len(marked_by) >= MARKED_BY or mark.account_id in marked_by:
        raise MarkedAlready
    row = SampleMarkRow(
        item_id=item_id, verdict=mark.verdict, reason=mark.reason, at=mark.at, by=mark.by,
        account_id=mark.account_id,
    )  # fmt: skip
    try:
        with session.begin_nested():
            session.add(row)
            session.flush()
    except IntegrityError as twice:
        raise MarkedAlready from twice


def read_sample(session: Session, sample_id: int) -> Sample | None:
    """One sample with its findings and marks."""
    row = session.get(SampleRow, sample_id)
    if row is None:
        return None
    items = _items(session, session.scalars(_of_sample(sample_id)))
    return Sample(row.id, row.count_id, row.seed, row.rule_id, row.drawn_at, row.by, items)


def read_item(session: Session, sample_id: int, number: int) -> Item | None:
    """One finding of a sample by its number."""
    query = _of_sample(sample_id).where(SampleItemRow.number == number)
    return next(iter(_items(session, session.scalars(query))), None)


def read_samples(session: Session) -> tuple[tuple[Sample, int, int], ...]:
    """Every sample, newest first, without its findings: how many they are, and how many of them
    two people have marked.
    """
    counts = dict(
        session.execute(
            select(SampleItemRow.sample_id, func.count()).group_by(SampleItemRow.sample_id)
        ).all()
    )
    both = (
        select(SampleMarkRow.item_id)
        .group_by(SampleMarkRow.item_id)
        .having(func.count() >= MARKED_BY)
    )
    marked = dict(
        session.execute(
            select(SampleItemRow.sample_id, func.count())
            .where(SampleItemRow.id.in_(both))
            .group_by(SampleItemRow.sample_id)
        ).all()
    )
    rows = session.scalars(select(SampleRow).order_by(SampleRow.id.desc()))
    return tuple(
        (
            Sample(r.id, r.count_id, r.seed, r.rule_id, r.drawn_at, r.by),
            counts.get(r.id, 0),
            marked.get(r.id, 0),
        )
        for r in rows
    )


def read_items(session: Session) -> tuple[Item, ...]:
    """Every finding of every sample, with its marks."""
    return _items(session, session.scalars(select(SampleItemRow).order_by(SampleItemRow.id)))


def _of_sample(sample_id: int) -> Any:  # noqa: ANN401 - a query's long type says nothing here
    return (
        select(SampleItemRow)
        .where(SampleItemRow.sample_id == sample_id)
        .order_by(SampleItemRow.number)
    )


def _items(session: Session, rows: Iterable[SampleItemRow]) -> tuple[Item, ...]:
    found = list(rows)
    marks = _marks(session, [row.id for row in found])
    return tuple(
        Item(
            row.id, row.sample_id, row.number, row.past_id, row.rule_id, tuple(row.order_ids),
            row.level, row.told, tuple(marks[row.id]),
        )
        for row in found
    )  # fmt: skip


def _marks(session: Session, item_ids: list[int]) -> defaultdict[int, list[Mark]]:
    by_item: defaultdict[int, list[Mark]] = defaultdict(list)
    query = select(SampleMarkRow).where(SampleMarkRow.item_id.in_(item_ids))
    for row in session.scalars(query.order_by(SampleMarkRow.id)):
        verdict = next(v for v in VERDICTS if v == row.verdict)
        by_item[row.item_id].append(Mark(verdict, row.reason, row.at, row.by, row.account_id))
    return by_item
