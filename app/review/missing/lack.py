"""A value that a rule lacked, and how bad the worst plausible value of it would be."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import islice
from typing import Final

from app.cautions.assess import Ruleset
from app.cautions.rule import LEVELS, Finding, Limits, NotAssessed, OrderCheck, PatientCheck, Rule
from app.patient.case import Case, Situation
from app.patient.known import NotKnown, Why
from app.patient.order import Order
from app.review.missing.plausible import plausible_cases

QUIET: Final = len(LEVELS)
# A rule may lack a second value once the first is assumed; beyond that nothing is tried.
DEPTH: Final = 2
TRIALS_PER_RULE: Final = 12
SODIUM_HYPERTONIC: Final = 250.0
KIDNEY: Final = ("creatinine", "egfr", "urine_ml_h")
# What is in a litre, from how much on (mmol, mannitol g), and the results it is judged by.
JUDGED_BY: Final[Mapping[str, tuple[float, tuple[str, ...]]]] = {
    "potassium_mmol_l": (10.0, ("potassium", *KIDNEY)),
    "bicarbonate_mmol_l": (50.0, ("ph", "bicarbonate")),
    "sodium_mmol_l": (SODIUM_HYPERTONIC, ("sodium",)),
    "mannitol_g_l": (1.0, ("osmolality", *KIDNEY)),
    "magnesium_mmol_l": (5.0, ("magnesium", *KIDNEY)),
    "calcium_mmol_l": (5.0, ("calcium_ionised", "calcium_total")),
    "phosphate_mmol_l": (5.0, ("phosphate", *KIDNEY)),
}

Trial = Callable[[Case], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Lack:
    """A value that is not there, why, and how bad the worst plausible value would be.

    rule: the caution it would raise. rank: 0 critical, 1 warning, 2 info, 3 nothing. order_ids:
    the order it was lacked for, or every order where a rule looks at the whole patient. judged:
    a bag is judged by it.
    """

    need: str
    why: Why
    detail: str
    rank: int
    rule: Rule
    order_ids: tuple[str, ...]
    judged: bool = False


def lacks_of_order(
    order: Order, case: Case, not_assessed: Iterable[NotAssessed], ruleset: Ruleset
) -> tuple[Lack, ...]:
    """What the order rules lacked for one order, each tried over plausible values."""
    lacks = []
    for gap, rule in _with_rules(not_assessed, ruleset.order_rules):
        if rule.for_order is not None:
            trial = partial(_try_order, rule.for_order, order.id, ruleset.limits[rule.id])
            lacks.append(_lack(rule, gap, case, order, trial))
    return tuple(lacks)


def lacks_of_patient(
    case: Case, not_assessed: Iterable[NotAssessed], ruleset: Ruleset
) -> tuple[Lack, ...]:
    """The same for the rules of the whole patient."""
    lacks = []
    for gap, rule in _with_rules(not_assessed, ruleset.patient_rules):
        if rule.for_patient is not None:
            trial = partial(_try_patient, rule.for_patient, ruleset.limits[rule.id])
            lacks.append(_lack(rule, gap, case, None, trial))
    return tuple(lacks)


def _with_rules(
    not_assessed: Iterable[NotAssessed], rules: Iterable[Rule]
) -> list[tuple[NotAssessed, Rule]]:
    """Each gap with its rule; most orders have none, so nothing is looked up before there is."""
    gaps = tuple(not_assessed)
    by_id = {rule.id: rule for rule in rules} if gaps else {}
    return [(gap, by_id[gap.rule_id]) for gap in gaps if gap.rule_id in by_id]


def _try_order(check: OrderCheck, order_id: str, limits: Limits, tried: Case) -> Iterator[Finding]:
    order = next(order for order in tried.orders if order.id == order_id)
    return check(Situation(tried, order), limits)


def _try_patient(check: PatientCheck, limits: Limits, tried: Case) -> Iterator[Finding]:
    return check(tried, limits)


def _lack(rule: Rule, gap: NotAssessed, case: Case, order: Order | None, trial: Trial) -> Lack:
    need = gap.needs[0]
    orders = case.orders if order is None else (order,)
    # What a bag is judged by must be fresh: an old value says no more than none.
    judged = any(need in judged_by(o) for o in orders)
    why: Why = "missing" if judged else gap.why
    ranks = _ranks(trial, case, order, NotKnown(need, why), DEPTH)
    rank = min(islice(ranks, TRIALS_PER_RULE), default=QUIET)
    ids = tuple(o.id for o in orders)
    doubt = next((q for q in case.questions if q.field.split(".")[-1] == need), None)
    if doubt is not None:
        return Lack(need, "suspect", doubt.ask, rank, rule, ids, judged)
    return Lack(need, gap.why, gap.detail, rank, rule, ids, judged)


def _ranks(
    trial: Trial, case: Case, order: Order | None, lack: NotKnown, depth: int
) -> Iterator[int]:
    """Rank of what the rule says for each plausible value, lacking values tried in turn."""
    for tried in plausible_cases(case, order, lack.need, lack.why):
        try:
            yield min((LEVELS.index(f.level) for f in trial(tried)), default=QUIET)
        except NotKnown as further:
            if depth > 1 and further.need != lack.need:
                yield from _ranks(trial, tried, order, further, depth - 1)


def judged_by(order: Order) -> frozenset[str]:
    """The results that decide whether what this bag holds may be given."""
    if order.mix is None:
        return frozenset()
    held = order.mix.amounts()
    return frozenset(
        need
        for name, (least, needs) in JUDGED_BY.items()
        if (held[name] or 0.0) >= least
        for need in needs
    )
