"""One change: beside what is in force, with its reason, its replay, and what was decided of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from app.catalogue.changes.allowed import why_not_approved, why_not_sent_back, why_not_withdrawn
from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch, Signature
from app.catalogue.changes.differences import Difference
from app.catalogue.changes.history import Filed, State
from app.catalogue.entry import EntryError, fluid_from
from app.cautions.example import Example
from app.cautions.limits import crossed
from app.cautions.registry import RULE_BY_ID
from app.review.changes.decide import reason_needed
from app.review.changes.examples import Tried, tried_on
from app.review.changes.meanwhile import apart, content_at, limit_named, value_text
from app.review.knowledge import Knowledge, Past
from app.storage.replays.results import ReplayResult
from app.web.changes.rows import ChangeRow, change_row, counted_before
from app.web.changes.words import STATE_WORDS, href_of, moment_text, signed_text, verdict_text
from app.web.fluids.card import Checked, checked
from app.web.show import NOT_KNOWN, count, number

NOT_TOUCHED: Final = (
    "no finding on these orders would change; that says nothing of orders that were not among them"
)
ACTS: Final = ("approve", "send-back", "withdraw")
BESIDE: Final[Mapping[State, str]] = {
    "draft": "In force now", "waiting": "In force now", "in force": "Before it",
    "superseded": "Before it", "sent back": "In force then", "withdrawn": "In force then",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Decided:
    """One decision, in words."""

    what: str
    reason: str
    replay: str


@dataclass(frozen=True, slots=True)
class ActForm:
    """What a person may do with it, or why not. typed: what was written before it was refused."""

    act: str
    why_not: str
    typed: str = ""
    fault: str = ""


@dataclass(frozen=True, slots=True)
class ReplayView:
    """What came of it on past orders. burden: findings at warning or above for 100 orders."""

    ran: str
    rows: str
    burden: tuple[str, str]
    critical: tuple[str, str]
    is_over: bool
    cap: str
    is_stale: bool
    lost: str


@dataclass(frozen=True, slots=True)
class Sent:
    """A form that was refused: which act, what was written, and why, beside the field or above."""

    act: str = ""
    typed: str = ""
    fault: str = ""
    above: str = ""


@dataclass(frozen=True, slots=True)
class ChangePage:
    """Everything that a second person needs to decide."""

    row: ChangeRow
    state: str
    state_words: str
    href: str
    checked: tuple[Checked, ...]
    beside: str
    differences: tuple[Difference, ...]
    shipped: str
    crossed: tuple[str, ...]
    since: tuple[Difference, ...]
    others: tuple[ChangeRow, ...]
    tried: Tried
    replay: ReplayView | None
    runs_now: bool
    needs_reason: str
    decided: tuple[Decided, ...]
    forms: Mapping[str, ActForm]
    revise: str
    revised: tuple[int, ...]
    revises: int
    seen: str
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Looking:
    """Who looks at it, when, with what in force. by: None when nobody who may decide; runs_now: it
    is being run on past orders.
    """

    past: Past
    knowledge: Knowledge
    now: datetime
    by: Signature | None
    replay: ReplayResult | None = None
    may: frozenset[str] = frozenset()
    examples: Iterable[Example] = field(default=())
    runs_now: bool = False


def change_page(filed: Filed, looking: Looking, sent: Sent) -> ChangePage:
    """The page of one change."""
    past, now, change = looking.past, looking.now, filed.change
    state = past.history.state(filed, now)
    is_open = state in ("draft", "waiting")
    tries = tried_on(change, looking.examples, looking.knowledge) if is_open else Tried(0, ())
    return ChangePage(
        row=change_row(filed, past, looking.knowledge, now),
        state=state.replace(" ", "-"),
        state_words=STATE_WORDS[state],
        href=_href(filed, looking),
        checked=_checked(filed),
        beside=BESIDE[state],
        differences=apart(counted_before(filed, past, now), change.content),
        shipped=_shipped(filed),
        crossed=_crossed(filed, looking) if is_open else (),
        since=_since(filed, past, now) if is_open else (),
        others=_others(filed, looking) if is_open else (),
        tried=tries,
        replay=_replay(looking),
        runs_now=looking.runs_now,
        needs_reason=_needs_reason(looking, tries) if state == "draft" else "",
        decided=tuple(_decided(filed, now)),
        forms=_forms(filed, looking, sent),
        revise=_revise(filed) if state == "sent back" and "draft" in looking.may else "",
        revised=tuple(f.change.number for f in past.history if f.change.revises == change.number),
        revises=change.revises,
        seen=now.isoformat(),
        fault=sent.above,
    )


def _needs_reason(looking: Looking, tries: Tried) -> str:
    silences = tries.critical_lost > 0
    return reason_needed(looking.replay, looking.knowledge.version, silences=silences)


def _href(filed: Filed, looking: Looking) -> str:
    """The page of what it is about; of a fluid that is not there, that of what was said of it."""
    content, held = filed.change.content, looking.knowledge.catalogue
    is_gone = isinstance(content, FluidEntry) and held.get(content.fluid_id) is None
    return f"{href_of(content)}/history" if is_gone else href_of(content)


def _checked(filed: Filed) -> tuple[Checked, ...]:
    """The label's own sums in an entry: what a second person looks at first."""
    content = filed.change.content
    if not isinstance(content, FluidEntry) or content.document is None:
        return ()
    try:
        return checked(fluid_from(content.document, file_id=content.fluid_id))
    except EntryError:
        return ()


def _replay(looking: Looking) -> ReplayView | None:
    """The newest replay that came to its end."""
    found = looking.replay
    if found is None:
        return None
    requests, orders = count(found.requests, "request"), count(found.orders, "order")
    when = moment_text(found.finished_at, looking.now)
    rows = (
        f"{count(found.appear, 'finding')} would appear, {found.vanish or 'none'} vanish, "
        f"{found.level or 'none'} change level"
    )
    return ReplayView(
        ran=f"{requests} with {orders}, by {found.by}, {when}",
        rows=rows if found.appear or found.vanish or found.level else NOT_TOUCHED,
        burden=(_rate(found.burden_before), _rate(found.burden_after)),
        critical=(_rate(found.critical_before), _rate(found.critical_after)),
        is_over=found.over_cap,
        cap=number(found.cap),
        is_stale=found.before != looking.knowledge.version,
        lost=count(found.critical_lost, "critical finding") if found.critical_lost else "",
    )


def _rate(value: float | None) -> str:
    return NOT_KNOWN if value is None else number(value)


def _shipped(filed: Filed) -> str:
    content = filed.change.content
    limit = limit_named(content.rule_id, content.name) if isinstance(content, LimitValue) else None
    return value_text(limit.value, limit) if limit else ""


def _crossed(filed: Filed, looking: Looking) -> tuple[str, ...]:
    """Limits of the same thing that this one would pass: a slip of the pen, or meant."""
    content = filed.change.content
    rule = RULE_BY_ID.get(content.rule_id) if isinstance(content, LimitValue) else None
    if rule is None or not isinstance(content, LimitValue) or content.value is None:
        return ()
    in_force = looking.knowledge.ruleset.limits[rule.id]
    return tuple(
        f"{'above' if above else 'below'} “{one.meaning or one.name}”, "
        f"{number(in_force[one.name])} {one.unit}"
        for one, above in crossed(rule, content.name, content.value, in_force)
    )


def _since(filed: Filed, past: Past, now: datetime) -> tuple[Difference, ...]:
    """What counts otherwise than when it was drafted: approving it would undo that."""
    subject = filed.change.subject
    then = content_at(past, subject, filed.change.drafted.at)
    return apart(then, content_at(past, subject, now))


def _others(filed: Filed, looking: Looking) -> tuple[ChangeRow, ...]:
    """Other changes of the same that are drafted or wait."""
    past, now = looking.past, looking.now
    return tuple(
        change_row(one, past, looking.knowledge, now)
        for one in past.history.about(filed.change.subject)
        if one.change.number != filed.change.number
        if past.history.state(one, now) in ("draft", "waiting")
    )


def _decided(filed: Filed, now: datetime) -> Iterable[Decided]:
    for one in filed.decisions:
        replay = f"on replay {one.replay}" if one.replay else ""
        if one.verdict == "approved" and not one.replay:
            replay = "without a replay"
        yield Decided(
            f"{verdict_text(one.verdict)} {signed_text(one.signed, now)}", one.reason, replay
        )


def _forms(filed: Filed, looking: Looking, sent: Sent) -> Mapping[str, ActForm]:
    """The three acts, as far as the person's role goes; each with why it is not open to them."""
    by, history = looking.by, looking.past.history
    if by is None:
        return {}
    why = {
        "approve": why_not_approved(filed, by, history),
        "send-back": why_not_sent_back(filed, by, history),
        "withdraw": why_not_withdrawn(filed, by, history),
    }
    return {
        act: ActForm(act, why[act], *((sent.typed, sent.fault) if sent.act == act else ()))
        for act in ACTS
        if act in looking.may
    }


def _revise(filed: Filed) -> str:
    """Where a draft that was sent back is written anew, with what it said."""
    content, number = filed.change.content, filed.change.number
    if isinstance(content, LimitValue):
        return f"/rules/{content.rule_id}/change?limit={content.name}&revises={number}"
    if isinstance(content, RuleSwitch):
        turn = "on" if content.on else "off"
        return f"/rules/{content.rule_id}/change?turn={turn}&revises={number}"
    return f"/catalogue/{content.fluid_id}/edit?revises={number}"
