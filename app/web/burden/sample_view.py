"""A sample and one finding of it, as one of two people sees them: never the other's mark first."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from app.storage.samples.samples import VERDICTS, Item, Mark, Sample
from app.web.changes.words import rule_title
from app.web.replay.situation import Situation
from app.web.show import clock, sentence

MEANS: Final = {
    "useful": "worth acting on, or worth knowing before acting",
    "not useful": "true, and of no use for this patient",
    "wrong": "not true, or not of this patient",
}


@dataclass(frozen=True, slots=True)
class Sent:
    """What was sent, and why it was not accepted."""

    verdict: str = ""
    reason: str = ""
    fault: str = ""

    def refused(self, fault: str) -> "Sent":
        """The same, not accepted."""
        return replace(self, fault=fault)


@dataclass(frozen=True, slots=True)
class MarkView:
    """What one person said. whose: "You", or who, once both have marked."""

    whose: str
    verdict: str
    reason: str


@dataclass(frozen=True, slots=True)
class ItemRow:
    """One finding in the list. state: what there is to do, or what was said."""

    href: str
    number: int
    level: str
    title: str
    state: str
    is_to_do: bool


@dataclass(frozen=True, slots=True)
class SamplePage:
    """One sample, for one person."""

    number: int
    of: str
    drawn: str
    seed: str
    rows: tuple[ItemRow, ...]
    to_do: int
    first: str
    done: int


@dataclass(frozen=True, slots=True)
class ItemPage:
    """One finding with its past order. marks: empty until this person may see them."""

    sample: int
    number: int
    of: int
    level: str
    rule: str
    rule_id: str
    title: str
    why: str
    do: str
    unless: str
    orders: str
    situation: Situation | None
    may_mark: bool
    marks: tuple[MarkView, ...]
    note: str
    verdicts: tuple[tuple[str, str], ...]
    sent: Sent


def sample_page(sample: Sample, account_id: str, now: datetime) -> SamplePage:
    """The list as this person sees it."""
    rows = tuple(_row(sample.id, item, account_id) for item in sample.items)
    to_do = [row for row in rows if row.is_to_do]
    return SamplePage(
        number=sample.id,
        of=rule_title(sample.rule_id) if sample.rule_id else "all rules",
        drawn=f"{clock(sample.drawn_at.astimezone(now.tzinfo), now)}, by {sample.by}",
        seed=sample.seed,
        rows=rows,
        to_do=len(to_do),
        first=to_do[0].href if to_do else "",
        done=sum(item.is_marked for item in sample.items),
    )


def item_page(
    sample: Sample, item: Item, situation: Situation | None, account_id: str, sent: Sent
) -> ItemPage:
    """One finding as this person sees it."""
    told = item.told
    return ItemPage(
        sample=sample.id,
        number=item.number,
        of=len(sample.items),
        level=item.level,
        rule=rule_title(item.rule_id),
        rule_id=item.rule_id,
        title=told["title"],
        why=sentence(told["why"]),
        do=sentence(told["do"]),
        unless=sentence(told["unless"]),
        orders=", ".join(item.order_ids),
        situation=situation,
        may_mark=item.may_be_marked_by(account_id),
        marks=marks_for(item, account_id),
        note=_note(item, account_id),
        verdicts=tuple((word, MEANS[word]) for word in VERDICTS),
        sent=sent,
    )


def marks_for(item: Item, account_id: str) -> tuple[MarkView, ...]:
    """One's own mark; both, with names, once two people have marked."""
    if item.is_marked:
        return tuple(_mark(mark, account_id) for mark in item.marks)
    own = item.mark_of(account_id)
    return () if own is None else (_mark(own, account_id),)


def _mark(mark: Mark, account_id: str) -> MarkView:
    whose = "You" if mark.account_id == account_id else mark.by
    return MarkView(whose, mark.verdict, mark.reason)


def _note(item: Item, account_id: str) -> str:
    if not item.is_marked and item.mark_of(account_id) is not None:
        return "You have marked it. What the other says is shown once both have."
    return ""


def _row(sample_id: int, item: Item, account_id: str) -> ItemRow:
    is_to_do = item.may_be_marked_by(account_id)
    return ItemRow(
        href=f"/burden/samples/{sample_id}/{item.number}",
        number=item.number,
        level=item.level,
        title=item.told["title"],
        state=_state(item, account_id),
        is_to_do=is_to_do,
    )


def _state(item: Item, account_id: str) -> str:
    if item.is_marked:
        return _both(mark.verdict for mark in item.marks)
    own = item.mark_of(account_id)
    return "to be marked by you" if own is None else f"you: {own.verdict}; waits for another"


def _both(verdicts: Iterable[str]) -> str:
    first, second = verdicts
    return f"both: {first}" if first == second else f"differ: {first}, {second}"
