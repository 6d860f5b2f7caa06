"""What a change would have made of past orders: rows, burden, and whether it is too much."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.review.burden.rates import by_setting
from app.review.replay.answer import rank_of
from app.review.replay.count import Count, per_100
from app.review.replay.numbers import kind_of
from app.review.replay.tally import Change, Changed, Tally
from app.storage.replays.results import ReplayResult
from app.web import show
from app.web.changes.words import rule_title
from app.web.replay.run import RunView

ROWS_SHOWN: Final = 12
PLACES: Final = 1
NO_ROW: Final = "not said"
KINDS: Final = {"appear": "would appear", "vanish": "would vanish", "level": "would change level"}


@dataclass(frozen=True, slots=True)
class Figure:
    """One thing before and after."""

    name: str
    before: str
    after: str
    change: str


@dataclass(frozen=True, slots=True)
class RuleRow:
    """What becomes of one rule's rows."""

    rule_id: str
    title: str
    appear: str
    vanish: str
    louder: str
    quieter: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class PastRow:
    """One row that differs, with the page that shows both answers."""

    href: str
    orders: str
    summary: str


@dataclass(frozen=True, slots=True)
class Kind:
    """Rows of one rule that change alike. rows: some of them, drawn by chance; number: all."""

    title: str
    was: str
    would_be: str
    words: str
    number: str
    rows: tuple[PastRow, ...]
    more: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came out. verdict: whether burden would rise by more than is allowed; over: that it
    would; stale: that something else has come to count since.
    """

    lead: str
    verdict: str
    over: bool
    stale: bool
    figures: tuple[Figure, ...]
    rules: tuple[RuleRow, ...]
    settings: tuple[Figure, ...]
    kinds: tuple[Kind, ...]
    pace: str
    versions: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class ReplayPage:
    """The page. held: what past orders there are; may_run: where to send the form, or empty."""

    number: int
    title: str
    held: str
    run: RunView | None
    outcome: Outcome | None
    outcome_at: str
    fault: str
    has_past: bool


@dataclass(frozen=True, slots=True)
class Kept:
    """A finished replay with all that came out of it. in_force: the version that counts now."""

    result: ReplayResult
    tally: Tally
    numbers: Mapping[str, Any]
    versions: Mapping[str, Any]
    in_force: str


def outcome_of(kept: Kept) -> Outcome:
    """What came out, in words and figures."""
    result, tally = kept.result, kept.tally
    return Outcome(
        lead=lead_of(result),
        verdict=verdict_of(result),
        over=result.over_cap,
        stale=result.before != kept.in_force,
        figures=tuple(_figures(kept)),
        rules=_rules(tally),
        settings=_settings(tally),
        kinds=kinds_of(tally, result.change_id),
        pace=pace_of(kept.numbers),
        versions=_versions(kept.versions),
    )


def lead_of(result: ReplayResult) -> str:
    """The whole in one sentence."""
    of = f"Of {result.requests:,} past requests with {result.orders:,} orders"
    if not (result.appear or result.vanish or result.level or result.newly_unread):
        return f"{of}, not one finding would be another."
    told = (
        f"{result.appear:,} would appear, {result.vanish:,} vanish, {result.level:,} change level"
    )
    return f"{of}: of the findings, {told}."


def verdict_of(result: ReplayResult) -> str:
    """Whether burden would rise by more than is allowed, and whether critical findings go."""
    if result.burden_before is None:
        return "There was no order, so nothing can be said of the burden."
    rise = show.signed(result.rise, PLACES)
    cap = show.number(result.cap, 2)
    lost = ""
    if result.critical_lost:
        them = show.count(result.critical_lost, "critical finding")
        lost = f" But {them} would fall silent or be said more quietly: approval needs a reason."
    if result.over_cap:
        return f"{rise} per 100 orders: over the cap of {cap}. Approval needs a written reason."
    return f"{rise} per 100 orders: within the cap of {cap}.{lost}"


def _figures(kept: Kept) -> Iterable[Figure]:
    result, numbers = kept.result, kept.numbers
    name = "Findings at warning or above, per 100 orders"
    yield _per(name, result.burden_before, result.burden_after)
    yield _per("Of these critical, per 100 orders", result.critical_before, result.critical_after)
    before, after = numbers["not_assessed_before"], numbers["not_assessed_after"]
    yield _whole("Checks that could not run", before, after)
    unread = numbers["unread"]
    yield _whole("Requests that cannot be read", unread, kept.tally.after.unread)


def _per(name: str, before: float | None, after: float | None) -> Figure:
    change = "" if before is None or after is None else show.signed(after - before, PLACES)
    return Figure(name, show.number(before, PLACES), show.number(after, PLACES), change)


def _whole(name: str, before: int, after: int) -> Figure:
    return Figure(name, f"{before:,}", f"{after:,}", show.signed(after - before, 0))


def _rules(tally: Tally) -> tuple[RuleRow, ...]:
    """Every rule whose rows differ, the most first."""
    touched = Counter[str]()
    moves: Counter[tuple[str, str]] = Counter()
    for change, rows in tally.changes.items():
        touched[change[0]] += rows
        moves[change[0], _move(change)] += rows
    before, after = _loud_by_rule(tally.before), _loud_by_rule(tally.after)
    orders = tally.before.all_orders
    return tuple(
        RuleRow(
            rule_id=rule_id,
            title=rule_title(rule_id),
            appear=f"{moves[rule_id, 'appear']:,}",
            vanish=f"{moves[rule_id, 'vanish']:,}",
            louder=f"{moves[rule_id, 'louder']:,}",
            quieter=f"{moves[rule_id, 'quieter']:,}",
            before=show.number(per_100(before[rule_id], orders), PLACES),
            after=show.number(per_100(after[rule_id], orders), PLACES),
        )
        for rule_id, _ in sorted(touched.items(), key=lambda one: (-one[1], one[0]))
    )


def _move(change: Change) -> str:
    kind = kind_of(change)
    if kind != "level":
        return kind
    return "louder" if rank_of(change[3]) < rank_of(change[2]) else "quieter"


def _loud_by_rule(count: Count) -> Counter[str]:
    rows: Counter[str] = Counter()
    for (_, _, _, rule_id, level), number in count.found.items():
        if level != "info":
            rows[rule_id] += number
    return rows


def _settings(tally: Tally) -> tuple[Figure, ...]:
    after = {rate.what: rate.burden for rate in by_setting(tally.after)}
    return tuple(
        _per(show.capital(rate.what), rate.burden, after.get(rate.what))
        for rate in by_setting(tally.before)
    )


def kinds_of(tally: Tally, change_id: int) -> tuple[Kind, ...]:
    """Rows that differ, by rule and how: what touches a critical row first, then the most."""
    numbers: Counter[tuple[str, str, str]] = Counter()
    for (rule_id, _, was, would_be), rows in tally.changes.items():
        numbers[rule_id, was, would_be] += rows
    by_kind: dict[tuple[str, str, str], list[Changed]] = {}
    for row in tally.sample:
        by_kind.setdefault(row.kind, []).append(row)
    order = sorted(numbers, key=lambda k: (min(rank_of(k[1]), rank_of(k[2])), -numbers[k], k))
    return tuple(_kind(k, numbers[k], by_kind.get(k, []), change_id) for k in order)


def _kind(kind: tuple[str, str, str], number: int, rows: list[Changed], change_id: int) -> Kind:
    rule_id, was, would_be = kind
    shown = rows[:ROWS_SHOWN]
    words = KINDS[kind_of((rule_id, "", was, would_be))]
    return Kind(
        rule_title(rule_id), was or NO_ROW, would_be or NO_ROW, words, f"{number:,}",
        tuple(_row(row, change_id) for row in shown), number - len(shown),
    )  # fmt: skip


def _row(row: Changed, change_id: int) -> PastRow:
    href = f"/changes/{change_id}/replay/past/{row.past_id}"
    return PastRow(href, ", ".join(row.order_ids), row.summary)


def pace_of(numbers: Mapping[str, Any]) -> str:
    """How long it took, and where."""
    seconds = numbers.get("seconds") or 0.0
    took = f"It took {show.number(seconds)} s on {numbers.get('where', 'this machine')}"
    return f"{took}: {numbers['orders'] / seconds:,.0f} orders a second." if seconds else f"{took}."


def _versions(versions: Mapping[str, Any]) -> tuple[tuple[str, str, str], ...]:
    before, after = versions["before"], versions["after"]
    return tuple((name, before[name], after[name]) for name in before)
