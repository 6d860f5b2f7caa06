"""An order that can be read in more than one way: loud only where the reading matters."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from app.catalogue.fluid import Fluid
from app.cautions.assess import Found
from app.cautions.data_rules import ORDER_AMBIGUOUS
from app.cautions.phrases import as_sentence, listed, lowered, short
from app.cautions.rule import LEVELS, SUMMARY_AT_MOST, Finding
from app.patient.order import Order, Question

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
LOUD: Final = ("critical", "warning")
NAMED: Final = 3
# Made up in pharmacy, or given beside what is.
NUTRITION: Final = ("parenteral_nutrition", "lipid_emulsion")
BAG_LABEL: Final = "Compare the label of the bag with the order before it is hung."
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
    finding = _some(order, matters) if matters else _of_words(order)
    if finding is None:
        return ()
    return (Found(ORDER_AMBIGUOUS, replace(finding, order_ids=(order.id,)), NO_LIMITS),)


def not_running(order: Order) -> tuple[Found, ...]:
    """What is said of an order whose own words say that it does not run."""
    finding = Finding(
        "info",
        _short(f"“{order.not_given}” is written: read as not running, and not checked"),
        f"“{order.written}”: “{order.not_given}” is written, so it is neither checked nor counted.",
        do="Have it reviewed again before it is started.",
        order_ids=(order.id,),
    )
    return (Found(ORDER_AMBIGUOUS, finding, NO_LIMITS),)


def _of_words(order: Order) -> Finding | None:
    """What the words alone leave open: the fluid, an additive, an amount, or something minor."""
    if order.fluid is None and not order.candidates and order.mix is None:
        return _nutrition(order) if _is_nutrition(order) else _not_understood(order)
    unread = next((additive for additive in order.additives if additive.unread), None)
    if unread:
        return _make("warning", f"Additive not read: {unread.as_written}", unread.unread)
    amount = next((q for q in order.questions if _field(q) in AMOUNT_FIELDS and not q.minor), None)
    if amount:
        by_protocol = order.carries_a_drug and _field(amount) in RATE_FIELDS
        level = "info" if by_protocol else "warning"
        made = _make(level, f"“{amount.written}” is not clear", amount.ask)
        return replace(made, figures={"asked": _field(amount)})
    if not order.questions:
        return None
    return _make("info", f"“{order.questions[0].written}” is not clear", order.questions[0].ask)


def _is_nutrition(order: Order) -> bool:
    return any(additive.substance in NUTRITION for additive in order.additives)


def _nutrition(order: Order) -> Finding:
    """A bag made up in pharmacy is no fluid of the catalogue; only an unclear rate is asked."""
    asked = (q for q in order.questions if not q.minor)
    rate = next((q for q in asked if _field(q) in (*RATE_FIELDS, "volume_ml")), None)
    if rate:
        made = _make("warning", f"“{rate.written}” is not clear", rate.ask)
        return replace(made, figures={"asked": _field(rate)})
    return Finding(
        "info",
        "Nutrition is checked only for what the order says it holds.",
        f"“{order.written}” is made up in pharmacy.",
        do=BAG_LABEL,
    )


def _some(order: Order, matters: Iterable[tuple[Found, tuple[Fluid, ...]]]) -> Finding:
    """Which fluids the name may mean, and what is to beware of with some of them only."""
    worst_first = sorted(matters, key=lambda pair: LEVELS.index(pair[0].finding.level))
    first, some = worst_first[0]
    beware = lowered(first.rule.title)
    by_fluids: dict[tuple[Fluid, ...], list[str]] = {}
    for found, fluids in worst_first[:NAMED]:
        by_fluids.setdefault(fluids, []).append(as_sentence(found.finding.summary))
    told = " ".join(
        f"With {_which(fluids, order.candidates)}: {' '.join(said)}"
        for fluids, said in by_fluids.items()
    )
    return Finding(
        "warning",
        _short(
            f"“{order.written}” may mean {len(order.candidates)} fluids, and with {len(some)} of "
            f"them there is a caution: {beware}"
        ),
        f"It may mean {_either(order.candidates)}. {told}",
    )


def _which(fluids: tuple[Fluid, ...], every: tuple[Fluid, ...]) -> str:
    """The fluids named, or the rest that is excepted where that is shorter."""
    rest = tuple(fluid for fluid in every if fluid not in fluids)
    return _either(fluids) if len(fluids) <= len(rest) else f"any but {_either(rest)}"


def _either(fluids: tuple[Fluid, ...]) -> str:
    """Names as a choice: "a, b or c"."""
    names = tuple(short(fluid.name) for fluid in fluids)
    return listed(names).replace(" and ", " or ") if len(names) > 1 else names[0]


def _not_understood(order: Order) -> Finding:
    if not order.written:
        return _make("warning", "No fluid is named", "which fluid is meant?")
    asks = [q.ask for q in order.questions if _field(q) == "fluid"]
    ask = asks[0] if asks else "Which fluid is meant?"
    return _make(
        "warning", f"“{order.written}” is not understood, so what it holds was not checked", ask
    )


def _field(question: Question) -> str:
    """The last name of a field's path, without its place in a list."""
    return question.field.split(".")[-1].split("[")[0]


def _make(level: str, what: str, why: str) -> Finding:
    return Finding(
        "warning" if level == "warning" else "info",
        _short(what),
        f"{what}: {as_sentence(why)}",
        do=_ask(why),
    )


def _short(what: str) -> str:
    """The words as one sentence of one line."""
    if len(what) < SUMMARY_AT_MOST:
        return f"{what}."
    return f"{what[: SUMMARY_AT_MOST - 2].rstrip()}…."


def _ask(why: str) -> str:
    return f"Ask the prescriber: {why}" if why.endswith("?") else ""
