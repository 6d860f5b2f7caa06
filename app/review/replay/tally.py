"""What differs between two answers, counted, with a fair sample of the rows to look at.

Tallies of parts add up to that of the whole, in any order and grouping. The rows kept are those
with the smallest digests: which they are depends on no order, and they are a random sample.
"""

import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from app.review.replay.answer import Answer, AnswerRow, Past, RowKey
from app.review.replay.count import LOUD, Count, Where, count_of, summed

# Rule, setting, level before, level after; an empty level is no row.
Change = tuple[str, str, str, str]
# Rows kept for each rule and kind of change: enough to read, and to draw a sample from.
KEPT_OF_A_KIND: Final = 60
DIGEST_BYTES: Final = 8


@dataclass(frozen=True, slots=True, order=True)
class Changed:
    """One row that appears, vanishes, changes level or (was = would_be) stands as it was.

    digest: by which rows are kept, from the seed and the row alone.
    """

    digest: str
    past_id: int
    rule_id: str
    order_ids: tuple[str, ...]
    was: str
    would_be: str
    summary: str

    @property
    def kind(self) -> tuple[str, str, str]:
        """Rule, level before, level after."""
        return self.rule_id, self.was, self.would_be


@dataclass(frozen=True, slots=True)
class Tally:
    """Past requests counted before and after. changes: rows that differ, by rule and setting.

    sample: of each kind of change some rows; newly_unread: requests that only the second state
    of knowledge cannot read.
    """

    before: Count = field(default_factory=Count)
    after: Count = field(default_factory=Count)
    changes: Mapping[Change, int] = field(default_factory=dict)
    sample: tuple[Changed, ...] = ()
    newly_unread: int = 0

    def __add__(self, other: "Tally") -> "Tally":
        """Both together."""
        return merged((self, other))

    @property
    def is_nothing(self) -> bool:
        """True when not one row differs and everything is read as before."""
        return not self.changes and not self.newly_unread

    def as_document(self) -> dict[str, Any]:
        """As JSON can carry it."""
        return {
            "before": self.before.as_document(),
            "after": self.after.as_document(),
            "changes": [[*change, n] for change, n in sorted(self.changes.items())],
            "sample": [
                [r.digest, r.past_id, r.rule_id, list(r.order_ids), r.was, r.would_be, r.summary]
                for r in self.sample
            ],
            "newly_unread": self.newly_unread,
        }

    @staticmethod
    def from_document(document: Mapping[str, Any]) -> "Tally":
        """From what as_document() gave."""
        return Tally(
            Count.from_document(document["before"]),
            Count.from_document(document["after"]),
            {(rule, place, was, to): n for rule, place, was, to, n in document["changes"]},
            tuple(
                Changed(digest, past_id, rule_id, tuple(ids), was, to, summary)
                for digest, past_id, rule_id, ids, was, to, summary in document["sample"]
            ),
            document["newly_unread"],
        )


def merged(tallies: Iterable[Tally]) -> Tally:
    """Many tallies as one."""
    all_tallies = tuple(tallies)
    changes: Counter[Change] = Counter()
    for one in all_tallies:
        changes.update(one.changes)
    return Tally(
        summed(one.before for one in all_tallies),
        summed(one.after for one in all_tallies),
        dict(changes),
        smallest(row for one in all_tallies for row in one.sample),
        sum(one.newly_unread for one in all_tallies),
    )


@dataclass(frozen=True, slots=True)
class One:
    """One past request with its two answers, and where it belongs."""

    past: Past
    before: Answer
    after: Answer
    where: Where


def tally_of(ones: Iterable[One], seed: str, *, every_loud_row: bool = False) -> Tally:
    """Many requests as one tally.

    seed: what rows are sampled by. every_loud_row: sample also the loud rows that stand, for
    people to look at.
    """
    all_ones = tuple(ones)
    changes: defaultdict[Change, int] = defaultdict(int)
    rows: list[Changed] = []
    for one in all_ones:
        for row in _differences(one, seed):
            changes[row.rule_id, one.past.setting, row.was, row.would_be] += 1
            rows.append(row)
        if every_loud_row:
            rows.extend(_standing(one, seed))
    return Tally(
        summed(count_of(one.past, one.before, one.where) for one in all_ones),
        summed(count_of(one.past, one.after, one.where) for one in all_ones),
        dict(changes),
        smallest(rows),
        sum(one.before.is_read and not one.after.is_read for one in all_ones),
    )


def smallest(rows: Iterable[Changed], most: int = KEPT_OF_A_KIND) -> tuple[Changed, ...]:
    """Of each kind the rows with the smallest digests, in that order."""
    by_kind: defaultdict[tuple[str, str, str], list[Changed]] = defaultdict(list)
    for row in rows:
        by_kind[row.kind].append(row)
    return tuple(sorted(row for kind in by_kind.values() for row in sorted(kind)[:most]))


def _differences(one: One, seed: str) -> Iterator[Changed]:
    if one.before is one.after:
        return
    was, would_be = _by_key(one.before), _by_key(one.after)
    for key in was.keys() | would_be.keys():
        old, new = was.get(key), would_be.get(key)
        if old is None or new is None or old.level != new.level:
            yield _changed(one.past, old, new, seed)


def _standing(one: One, seed: str) -> Iterator[Changed]:
    for row in one.before.rows:
        if row.level in LOUD:
            yield _changed(one.past, row, row, seed)


def _by_key(answer: Answer) -> dict[RowKey, AnswerRow]:
    return {row.key: row for row in answer.rows}


def _changed(past: Past, old: AnswerRow | None, new: AnswerRow | None, seed: str) -> Changed:
    row = new or old
    assert row is not None
    text = f"{seed}|{past.id}|{row.rule_id}|{'|'.join(row.order_ids)}"
    digest = hashlib.blake2b(text.encode(), digest_size=DIGEST_BYTES).hexdigest()
    was, would_be = (old.level if old else ""), (new.level if new else "")
    return Changed(digest, past.id, row.rule_id, row.order_ids, was, would_be, row.summary)
