"""An order that can be read in more than one way: loud only where the reading matters."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from app.catalogue.fluid import Fluid
from app.cautions.assess import Found
from app.cautions.data_rules import ORDER_AMBIGUOUS
from app.cautions.phrases import listed
from app.cautions.rule import Finding
from app.patient.order import Order, Question
from app.review.sentence import as_sentence

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
LOUD: Final = ("critical", "warning")
SUMMARY_AT_MOST: Final = 139
NAMED: Final = 3
# A doubt about one of these changes how much is given.
AMOUNT_FIELDS: Final = (
    "rate_ml_h", "rate_text", "order_text", "volume_ml", "duration_h", "amount", "unit",
    "substance", "additives",
)  # fmt: skip
RATE_FIELDS: Final = ("rate_ml_h", "rate_text", "order_text", "duration_h")
Depends = tuple[tuple[Found, tuple[Fluid, ...]], ...]


def ambiguity_findings(order: Order, depends: Depends) -> tuple[Found, ...]:
    """At most one finding: what must be asked about this order before it is hung.

    depends: findings that hold for only some of the fluids the name may mean.
    """
    matters = [(f, fluids) for f, fluids in depends if f.finding.level in LOUD]
    finding = _some(order, *matters[0]) if matters else _of_words(order)
    if finding is None:
        return ()
    return (Found(ORDER_AMBIGUOUS, replace(finding, order_ids=(order.id,)), NO_LIMITS),)


def _of_words(order: Order) -> Finding | None:
    """What the words alone leave open: the fluid, an additive, an amount, or something minor."""
    if order.fluid is None and not order.candidates and order.mix is None:
        return _not_understood(order)
    unread = next((additive for additive in order.additives if additive.unread), None)
    if unread:
        return _make("warning", f"Additive not read: {unread.as_written}", unread.unread)
    amount = next((q for q in order.questions if _field(q) in AMOUNT_FIELDS), None)
    if amount:
        by_protocol = order.carries_a_drug and _field(amount) in RATE_FIELDS
        level = "info" if by_protocol else "warning"
        made = _make(level, f"“{amount.written}” is not clear", amount.ask)
        return replace(made, figures={"asked": _field(amount)})
    if not order.questions:
        return None
    return _make("info", f"“{order.questions[0].written}” is not clear", order.questions[0].ask)


def _some(order: Order, found: Found, fluids: tuple[Fluid, ...]) -> Finding:
    some = listed(tuple(fluid.name for fluid in fluids[:NAMED]))
    every = listed(tuple(fluid.name for fluid in order.candidates))
    return _make(
        "warning",
        f"“{order.written}” may mean {len(order.candidates)} fluids, and it matters",
        f"it may mean {every}; with {some}: {found.finding.summary}",
    )


def _not_understood(order: Order) -> Finding:
    if not order.written:
        return _make("warning", "No fluid is named", "which fluid is meant?")
    asks = [q.ask for q in order.questions if _field(q) == "fluid"]
    ask = asks[0] if asks else "Which fluid is meant?"
    return _make("warning", f"“{order.written}” is not understood, so nothing was checked", ask)


def _field(question: Question) -> str:
    """The last name of a field's path, without its place in a list."""
    return question.field.split(".")[-1].split("[")[0]


def _make(level: str, what: str, why: str) -> Finding:
    summary = f"{what}."
    if len(summary) > SUMMARY_AT_MOST:
        summary = f"{what[: SUMMARY_AT_MOST - 2].rstrip()}…."
    return Finding(
        "warning" if level == "warning" else "info",
        summary,
        f"{what}: {as_sentence(why)}",
        do=_ask(why),
    )


def _ask(why: str) -> str:
    return f"Ask the prescriber: {why}" if why.endswith("?") else ""
