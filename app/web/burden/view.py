"""How much is said per 100 orders, in rows that can be read aloud."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from app.review.burden.precision import (
    TOO_FEW,
    Precision,
    Verdicts,
    kappa_or_none,
    needed_to_show,
    precision_of,
)
from app.review.burden.rates import Rate, by_day, by_rule, by_setting, by_shift, in_all
from app.review.replay.count import Count
from app.storage.samples.samples import Item, Sample
from app.web import show
from app.web.changes.words import rule_title
from app.web.replay.run import RunView

PLACES: Final = 1
# USERS.md 2.5: our targets.
MOST_LOUD_PER_100: Final = 25.0
NO_SHARE: Final = "too few to say"
PERCENT: Final = 100.0
BAR_WIDTH: Final = 100.0


@dataclass(frozen=True, slots=True)
class RateRow:
    """One rule, place, stretch or day. href: where it leads, or empty; share: of the largest."""

    what: str
    href: str
    critical: str
    warning: str
    info: str
    orders: str
    burden: str
    share: float


@dataclass(frozen=True, slots=True)
class PrecisionRow:
    """One rule (or all) as two people marked it."""

    what: str
    href: str
    marked: str
    both: str
    one: str
    neither: str
    share: str
    needed: str
    to_look_at: bool


@dataclass(frozen=True, slots=True)
class SampleRow:
    """One sample in the list."""

    href: str
    number: int
    of: str
    drawn: str
    far: str
    seed: str


@dataclass(frozen=True, slots=True)
class Counted:
    """What the newest count says."""

    lead: str
    verdict: str
    is_over: bool
    rules: tuple[RateRow, ...]
    settings: tuple[RateRow, ...]
    shifts: tuple[RateRow, ...]
    days: tuple[RateRow, ...]
    foot: str
    is_stale: bool
    rules_to_draw: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class BurdenPage:
    """The page. may_mark: whether this person marks findings."""

    held: str
    has_past: bool
    run: RunView | None
    counted: Counted | None
    precision: tuple[PrecisionRow, ...]
    agreement: str
    samples: tuple[SampleRow, ...]
    may_mark: bool
    fault: str
    too_few: int = TOO_FEW


def lead_of(count: Count) -> str:
    """The whole in one sentence."""
    whole = in_all(count)
    if whole.burden is None:
        return "There was no order in these days."
    return (
        f"{show.number(whole.burden, PLACES)} findings at warning or above for each 100 orders,"
        f" {show.number(whole.per_100('critical'), PLACES)} of them critical:"
        f" {whole.loud:,} findings on {whole.orders:,} orders."
    )


def verdict_of(count: Count) -> tuple[str, bool]:
    """Against our target, and whether it is over."""
    burden = count.burden()
    target = show.number(MOST_LOUD_PER_100)
    if burden is None:
        return "", False
    if burden > MOST_LOUD_PER_100:
        return f"That is over our target of at most {target}.", True
    return f"Our target is at most {target}.", False


def rule_rows(count: Count) -> tuple[RateRow, ...]:
    """Each rule that spoke, the loudest first."""
    return _rows(by_rule(count), lambda one: rule_title(one.what), "/rules/")


def setting_rows(count: Count) -> tuple[RateRow, ...]:
    """Each place."""
    return _rows(by_setting(count), lambda one: show.capital(one.what))


def shift_rows(count: Count) -> tuple[RateRow, ...]:
    """Each stretch of the day."""
    return _rows(by_shift(count), lambda one: show.capital(one.what))


def day_rows(count: Count) -> tuple[RateRow, ...]:
    """Each day, oldest first."""
    return _rows(by_day(count), lambda one: _day(one.what))


def precision_rows(items: Iterable[Item], whole: Collection[int]) -> tuple[PrecisionRow, ...]:
    """All rules together, then each rule, the most marked first; only what two people marked.

    whole: the samples drawn from all rules; those of one rule say nothing of all.
    """
    marked = [item for item in items if item.is_marked]
    by_id: dict[str, list[Verdicts]] = {}
    for item in marked:
        by_id.setdefault(item.rule_id, []).append(verdicts_of(item))
    rows = sorted(by_id.items(), key=lambda one: (-len(one[1]), one[0]))
    of_all = (verdicts_of(item) for item in marked if item.sample_id in whole)
    every = _precision_row("All rules", "", precision_of(of_all))
    each = (
        _precision_row(rule_title(rule_id), f"/rules/{rule_id}", precision_of(pairs))
        for rule_id, pairs in rows
    )
    return (every, *each) if marked else ()


def verdicts_of(item: Item) -> Verdicts:
    """What the first and the second person say, in the order they said it."""
    first, second = item.marks[:2]
    return first.verdict, second.verdict


def agreement_of(items: Iterable[Item]) -> str:
    """How far two people agree beyond chance, in words and a figure."""
    pairs = [verdicts_of(item) for item in items if item.is_marked]
    if len(pairs) < TOO_FEW:
        return f"Agreement of two people: {NO_SHARE} ({len(pairs)} of at least {TOO_FEW} marked)."
    kappa = kappa_or_none(pairs)
    same = sum(one == other for one, other in pairs)
    agreed = f"Two people said the same of {same} of {len(pairs)} findings"
    if kappa is None:
        return f"{agreed}; beyond chance is not defined, since both used one word throughout."
    return f"{agreed}: Cohen’s kappa {show.number(kappa, 2)}."


def share_words(precision: Precision) -> str:
    """The share worth acting on with its interval, or that there are too few to say."""
    share, interval = precision.share, precision.interval
    if share is None or interval is None:
        return NO_SHARE
    low, high = PERCENT * interval.low, PERCENT * interval.high
    return f"{PERCENT * share:.0f}% ({low:.0f} to {high:.0f}%)"


def sample_row(sample: Sample, number: int, marked: int, when: str) -> SampleRow:
    """One sample in the list."""
    of = rule_title(sample.rule_id) if sample.rule_id else "all rules"
    return SampleRow(
        f"/burden/samples/{sample.id}", sample.id, of, f"{when}, by {sample.by}",
        f"{marked} of {number} marked by two", sample.seed,
    )  # fmt: skip


def _precision_row(what: str, href: str, precision: Precision) -> PrecisionRow:
    needed = needed_to_show(precision.share)
    return PrecisionRow(
        what, href, str(precision.marked), str(precision.both), str(precision.one),
        str(precision.neither), share_words(precision),
        NO_SHARE if needed is None else show.number(needed, PLACES),
        precision.is_to_be_looked_at,
    )  # fmt: skip


def _rows(
    rates: tuple[Rate, ...], name: Callable[[Rate], str], address: str = ""
) -> tuple[RateRow, ...]:
    largest = max((rate.burden or 0.0 for rate in rates), default=0.0) or 1.0
    return tuple(
        RateRow(
            what=name(rate),
            href=f"{address}{rate.what}" if address else "",
            critical=f"{rate.critical:,}",
            warning=f"{rate.warning:,}",
            info=f"{rate.info:,}",
            orders=f"{rate.orders:,}",
            burden=show.number(rate.burden, PLACES),
            share=round(BAR_WIDTH * (rate.burden or 0.0) / largest, 1),
        )
        for rate in rates
    )


def _day(text: str) -> str:
    day = date.fromisoformat(text)
    return f"{day:%a} {day.day} {day:%b}"


def draws_of(kept: Mapping[str, int]) -> tuple[tuple[str, str], ...]:
    """The rules a sample may be drawn from, by title."""
    return tuple(sorted(((rule, rule_title(rule)) for rule in kept), key=lambda one: one[1]))
