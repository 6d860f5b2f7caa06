"""Every change with what was decided of it, and how each stands at a moment.

Nothing decided later alters how things stood: a change counts from its own moment or from its
approval, whichever is later, so that no past moment is ever written anew.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Literal

from app.catalogue.changes.change import Change, Decision, Verdict

State = Literal["draft", "sent back", "withdrawn", "waiting", "in force", "superseded"]
STATES: Final[tuple[State, ...]] = (
    "draft", "waiting", "in force", "superseded", "sent back", "withdrawn",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Filed:
    """A change with its decisions, in the order they were made."""

    change: Change
    decisions: tuple[Decision, ...] = ()

    def decided(self, verdict: Verdict) -> Decision | None:
        """The decision of this kind, or None."""
        return next((one for one in self.decisions if one.verdict == verdict), None)

    @property
    def counts_from(self) -> datetime | None:
        """The moment it counts from: its own or that of its approval, whichever is later. None
        when it never does.
        """
        approved = self.decided("approved")
        if approved is None or self.decided("withdrawn") is not None:
            return None
        return max(self.change.effective_from, approved.signed.at)

    def as_of(self, moment: datetime) -> "Filed":
        """What was decided of it up to a moment."""
        return Filed(self.change, tuple(d for d in self.decisions if d.signed.at <= moment))


@dataclass(frozen=True, slots=True)
class History:
    """Every change there ever was, in the order they were drafted."""

    filed: tuple[Filed, ...] = ()

    def __iter__(self) -> Iterator[Filed]:
        return iter(self.filed)

    def get(self, number: int) -> Filed | None:
        """The change of this number, or None."""
        return next((one for one in self.filed if one.change.number == number), None)

    def about(self, subject: str) -> tuple[Filed, ...]:
        """The changes of one fluid, limit or rule."""
        return tuple(one for one in self.filed if one.change.subject == subject)

    def as_of(self, moment: datetime) -> "History":
        """What was drafted and decided up to a moment."""
        drafted = (one for one in self.filed if one.change.drafted.at <= moment)
        return History(tuple(one.as_of(moment) for one in drafted))

    def in_force(self, moment: datetime) -> Mapping[str, Filed]:
        """The change that counts at a moment, for each subject that has one.

        Of two that count, the one that began later; of two that began at once, the one approved
        later.
        """
        counting = (one for one in self.filed if _began(one) is not None)
        begun = sorted((one for one in counting if _order(one)[0] <= moment), key=_order)
        return {one.change.subject: one for one in begun}

    def state(self, filed: Filed, moment: datetime) -> State:
        """How a change stands at a moment."""
        then = filed.as_of(moment)
        if then.decided("withdrawn") is not None:
            return "withdrawn"
        if then.decided("sent back") is not None:
            return "sent back"
        began = then.counts_from
        if began is None:
            return "draft"
        if began > moment:
            return "waiting"
        newest = self.in_force(moment).get(filed.change.subject)
        is_newest = newest is not None and newest.change.number == filed.change.number
        return "in force" if is_newest else "superseded"

    def moments(self) -> tuple[datetime, ...]:
        """Every moment at which a change began to count, the oldest first."""
        return tuple(sorted({began for one in self.filed if (began := _began(one)) is not None}))

    def next_moment(self, moment: datetime) -> datetime | None:
        """When the next approved change begins to count, or None."""
        return next((one for one in self.moments() if one > moment), None)

    def expired(self, today: date, moment: datetime) -> tuple[Filed, ...]:
        """The changes in force whose review day has passed."""
        counting = self.in_force(moment).values()
        return tuple(one for one in counting if one.change.review_on < today)


def history_of(changes: Iterable[Change], decisions: Iterable[Decision]) -> History:
    """Changes and decisions, as they were stored, put together."""
    by_change: dict[int, list[Decision]] = {}
    for decision in decisions:
        by_change.setdefault(decision.change, []).append(decision)
    return History(tuple(Filed(one, tuple(by_change.get(one.number, ()))) for one in changes))


def _began(filed: Filed) -> datetime | None:
    return filed.counts_from


def _order(filed: Filed) -> tuple[datetime, datetime, int]:
    began, approved = filed.counts_from, filed.decided("approved")
    assert began is not None
    assert approved is not None
    return began, approved.signed.at, filed.change.number
