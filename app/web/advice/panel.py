"""The review of one order being written: everything beside the form."""

from dataclasses import dataclass

from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.patient.case import Case
from app.patient.order import Order
from app.review.assess import OrderReview, Review
from app.review.knowledge import Knowledge
from app.review.receipts.receipt import numbers_of
from app.web import show
from app.web.advice.bag import BagView, bag_view
from app.web.advice.findings import LOUD, FindingView, depends_of, findings_of, offers_of
from app.web.advice.loads import LoadsView, loads_view
from app.web.advice.missing import MissingView, missing_of
from app.web.advice.order_words import read_back
from app.web.advice.understood import (
    Asked,
    Understood,
    questions_of,
    understood_order,
    understood_others,
    understood_words,
)
from app.web.ahead.order import NOT_AHEAD, OrderAhead, order_ahead
from app.web.changes.silent import SilentView, silent_of
from app.web.fluids.shelf import lack_words
from app.web.pairs.asked import address_of


@dataclass(frozen=True, slots=True)
class FaultLine:
    """A field that was not accepted, with a link to it."""

    field: str
    text: str


@dataclass(frozen=True, slots=True)
class Named:
    """The order as understood, to be read back, and its fluid.

    fluid_id: empty when no one fluid was understood; meanings: then those the words may mean,
    to choose from (empty: none was found).
    """

    read_back: str
    written: str
    fluid_id: str = ""
    meanings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Panel:
    """What stands beside the form. headline says in one line what was found.

    depends: findings for only some of the fluids the name may mean. faults: nothing was reviewed.
    at: the moment of the review, as a receipt of it needs it. lack: that the fluid ordered is out
    or withdrawn. ahead: what it will do over hours. sharing: where it is told what may share a
    lumen, empty with nothing to pair.
    """

    headline: str
    named: Named | None = None
    findings: tuple[FindingView, ...] = ()
    depends: tuple[FindingView, ...] = ()
    missing: tuple[MissingView, ...] = ()
    silent: tuple[SilentView, ...] = ()
    questions: tuple[Asked, ...] = ()
    order: Understood | None = None
    words: tuple[Understood, ...] = ()
    bag: BagView | None = None
    loads: LoadsView | None = None
    totals: LoadsView | None = None
    faults: tuple[FaultLine, ...] = ()
    at: str = ""
    lack: str = ""
    ahead: OrderAhead = NOT_AHEAD
    sharing: str = ""


EMPTY = Panel("Write an order, and what is found appears here.")
CHOOSE = "Choose which fluid is meant. Until then:"


def fault_panel(faults: tuple[FaultLine, ...]) -> Panel:
    """Nothing could be reviewed: what must be put right first."""
    fields = show.count(len(faults), "field")
    return Panel(f"Not reviewed: {fields} cannot be read.", faults=faults)


def panel_of(
    review: Review, order_id: str, knowledge: Knowledge, stock: Stock = NOTHING_TOLD
) -> Panel:
    """The review of one order of a case, with what it makes of the whole patient."""
    case = review.case
    ours = next(o for o in review.orders if o.order.id == order_id)
    named = named_of(ours.order)
    findings = findings_of(review, knowledge, order_id, stock)
    depends = depends_of(ours, case, offers_of(review, knowledge, stock), numbers_of(review))
    missing = missing_of(review, knowledge.ruleset, ours)
    silent = silent_of(review, order_id)
    return Panel(
        headline=choose_first(named, headline(findings, missing, silent)),
        named=named,
        findings=findings,
        depends=depends,
        missing=missing,
        silent=silent,
        questions=_questions(case, order_id, named),
        order=understood_order(ours.order),
        words=_words(case),
        bag=bag_view(ours.order),
        loads=loads_view(ours.loads, case.patient),
        totals=_totals(review, ours),
        at=case.now.isoformat(),
        sharing=address_of(case),
        lack=lack_words(ours.order.fluid, stock, case.now),
        ahead=order_ahead(ours.order, case),
    )


def _questions(case: Case, order_id: str, named: Named) -> tuple[Asked, ...]:
    """What is asked of the order; not again what its name leaves open."""
    asked = questions_of(case, (order_id,))
    return tuple(q for q in asked if q.choices != named.meanings or not q.choices)


def _words(case: Case) -> tuple[Understood, ...]:
    """What was written of the patient, as understood."""
    patient = case.patient
    return (
        *understood_words(patient.conditions),
        *understood_words(patient.medications),
        *understood_others(case),
    )


def named_of(order: Order) -> Named:
    """How the order's fluid was understood."""
    if order.fluid is not None:
        return Named(read_back(order), order.written, order.fluid.id)
    meanings = tuple(fluid.name for fluid in order.candidates)
    return Named(read_back(order), order.written, meanings=meanings)


def choose_first(named: Named, found: str) -> str:
    """The headline, led by the choice where the fluid's name fits several."""
    return f"{CHOOSE} {found[:1].lower()}{found[1:]}" if named.meanings else found


def headline(
    findings: tuple[FindingView, ...],
    missing: tuple[MissingView, ...],
    silent: tuple[SilentView, ...] = (),
) -> str:
    """What was found, not assessed and not run, in one line that can be read aloud."""
    counts = [
        show.count(n, word)
        for word, level in (("critical finding", "critical"), ("warning", "warning"))
        if (n := sum(f.level == level for f in findings))
    ]
    notes = len(findings) - sum(f.level in LOUD for f in findings)
    quiet = f"Nothing to call about or to check; {show.count(notes, 'note')}"
    found = show.capital(" and ".join(counts)) if counts else quiet if notes else "Nothing found"
    if missing:
        found += f"; {show.count(len(missing), 'thing')} missing, so not all was assessed"
    if silent:
        found += f"; {show.count(len(silent), 'rule')} switched off here would have spoken"
    return f"{found}."


def _totals(review: Review, ours: OrderReview) -> LoadsView | None:
    """The whole patient's loads, when this order is not the only one."""
    if len(review.orders) == 1:
        return None
    return loads_view(review.totals, review.case.patient)
