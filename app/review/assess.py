"""Review one patient's orders: pure, from a case to everything that must be said."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.cautions.assess import Found, Ruleset, assess_order, assess_patient
from app.cautions.data_rules import DATA_RULES
from app.cautions.phrases import short
from app.cautions.rule import LEVELS, NotAssessed
from app.cautions.switches import Silent, SwitchedOff
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import Order
from app.review.ambiguous import ambiguity_findings, not_running
from app.review.changes.silent import silent_of
from app.review.contradictions import contradictions
from app.review.missing.asked import order_data_findings, patient_data_findings
from app.review.missing.lack import Lack, lacks_of_order, lacks_of_patient
from app.review.missing.would_change import CouldRaise, would_change
from app.review.unnamed import unnamed

LOUD: Final = ("critical", "warning")
MINUTES_PER_HOUR: Final = 60.0
HOURS_PER_DAY: Final = 24.0
NOTHING_GIVEN: Final = (
    "water_ml_per_day", "sodium_mmol_per_day", "potassium_mmol_per_day", "chloride_mmol_per_day",
    "glucose_g_per_day", "potassium_mmol_h", "glucose_mg_kg_min",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Judged:
    """One order as one fluid. lacks: what its rules did not know, however little it matters."""

    found: tuple[Found, ...]
    not_assessed: tuple[NotAssessed, ...]
    lacks: tuple[Lack, ...]


@dataclass(frozen=True, slots=True)
class OrderReview:
    """One order: what was found, what could not be assessed, and what it brings in 24 hours.

    found: of an order whose name fits several fluids, what holds for every one of them.
    depends: what holds for only some, with the fluids it holds for. lacks: what its rules did not
    know, however little it matters.
    """

    order: Order
    found: tuple[Found, ...]
    not_assessed: tuple[NotAssessed, ...]
    loads: Mapping[str, float | None]
    depends: tuple[tuple[Found, tuple[Fluid, ...]], ...] = ()
    lacks: tuple[Lack, ...] = ()

    @property
    def worst(self) -> int:
        """Rank of the worst finding: 0 critical, 1 warning, 2 info, 3 nothing found."""
        return min((LEVELS.index(f.finding.level) for f in self.found), default=len(LEVELS))


@dataclass(frozen=True, slots=True)
class Review:
    """A whole case reviewed.

    would_change: what is not known and could raise a finding, ranked. silent: rules that are
    switched off here and would have had something to say. switched_off: all that are.
    """

    case: Case
    orders: tuple[OrderReview, ...]
    patient_found: tuple[Found, ...]
    patient_not_assessed: tuple[NotAssessed, ...]
    totals: Mapping[str, float | None]
    ruleset_version: str
    would_change: tuple[CouldRaise, ...] = ()
    silent: tuple[Silent, ...] = ()
    switched_off: tuple[SwitchedOff, ...] = ()

    @property
    def worst(self) -> int:
        """Rank of the worst finding of the patient or any order."""
        patient = (LEVELS.index(f.finding.level) for f in self.patient_found)
        return min([*patient, *(o.worst for o in self.orders)], default=len(LEVELS))

    @property
    def all_found(self) -> tuple[Found, ...]:
        """Every finding, worst first."""
        found = [*self.patient_found, *(f for o in self.orders for f in o.found)]
        return tuple(sorted(found, key=lambda f: LEVELS.index(f.finding.level)))


def review(case: Case, ruleset: Ruleset) -> Review:
    """Everything to be said of a case under the rules and limits in force."""
    running = (_review_order(order, case, ruleset) for order in case.orders)
    orders = (*running, *(_not_given(order) for order in case.not_given))
    patient = assess_patient(case, ruleset)
    told = tuple(found for order in orders for found in order.found)
    lacks = lacks_of_patient(case, patient.not_assessed, ruleset)
    data = (*patient_data_findings(case, lacks, told), *contradictions(case), *unnamed(case))
    all_lacks = (*lacks, *(lack for order in orders for lack in order.lacks))
    return Review(
        case=case,
        orders=orders,
        patient_found=(*patient.found, *data),
        patient_not_assessed=patient.not_assessed,
        totals=_totals(orders),
        ruleset_version=ruleset.version,
        would_change=would_change(all_lacks, (*patient.found, *told)) if all_lacks else (),
        silent=silent_of(case, ruleset),
        switched_off=ruleset.switched_off,
    )


def _review_order(order: Order, case: Case, ruleset: Ruleset) -> OrderReview:
    if order.fluid is None and order.candidates:
        return _review_candidates(order, case, ruleset)
    judged = judge_order(order, case, ruleset)
    found = (*judged.found, *ambiguity_findings(order, ()))
    return OrderReview(order, found, judged.not_assessed, loads(order, case), lacks=judged.lacks)


def _not_given(order: Order) -> OrderReview:
    """An order that does not run: told, counted as nothing, and not judged."""
    return OrderReview(order, not_running(order), (), dict.fromkeys(NOTHING_GIVEN, 0.0))


def judge_order(order: Order, case: Case, ruleset: Ruleset) -> Judged:
    """What the rules find, and which missing value could change it."""
    assessment = assess_order(order, case, ruleset)
    lacks = lacks_of_order(order, case, assessment.not_assessed, ruleset)
    found = (*assessment.found, *order_data_findings(order, case, lacks))
    return Judged(found, assessment.not_assessed, lacks)


def _review_candidates(order: Order, case: Case, ruleset: Ruleset) -> OrderReview:
    """Judge an ambiguous name as each fluid it may mean; keep what holds for every one.

    A rule that speaks at several levels is kept at the mildest.
    """
    as_each: list[tuple[Fluid, Judged]] = []
    for fluid in order.candidates:
        mix = mixture(fluid, order.additives, order.volume_ml)
        as_fluid = replace(order, fluid=fluid, mix=mix)
        others = tuple(as_fluid if o is order else o for o in case.orders)
        as_each.append((fluid, judge_order(as_fluid, replace(case, orders=others), ruleset)))
    by_rule: dict[str, dict[str, tuple[Fluid, Found]]] = {}
    for fluid, judged in as_each:
        for found in judged.found:
            by_rule.setdefault(found.rule.id, {}).setdefault(fluid.id, (fluid, found))
    groups = [tuple(group.values()) for group in by_rule.values()]
    always = [_mildest(g) for g in groups if len(g) == len(as_each)]
    only_some = [g for g in groups if len(g) < len(as_each)]
    depends = tuple((min((f for _, f in g), key=_rank), tuple(x for x, _ in g)) for g in only_some)
    return OrderReview(
        order,
        found=(*always, *ambiguity_findings(order, depends)),
        not_assessed=_not_assessed_of(as_each),
        loads=loads(order, case),
        depends=depends,
        lacks=tuple(lack for _, judged in as_each for lack in judged.lacks),
    )


def _mildest(group: tuple[tuple[Fluid, Found], ...]) -> Found:
    """What holds whichever is meant; where the figures differ it is said whose they are."""
    fluid, found = max(group, key=lambda pair: _rank(pair[1]))
    if found.rule in DATA_RULES or len({one.finding.summary for _, one in group}) == 1:
        return found
    whose = f"{found.finding.why} Figures are those of {short(fluid.name)}, one it may mean."
    return replace(found, finding=replace(found.finding, why=whose))


def _rank(found: Found) -> int:
    return LEVELS.index(found.finding.level)


def _not_assessed_of(as_each: list[tuple[Fluid, Judged]]) -> tuple[NotAssessed, ...]:
    by_rule = {n.rule_id: n for _, judged in as_each for n in judged.not_assessed}
    return tuple(by_rule.values())


def loads(order: Order, case: Case) -> Mapping[str, float | None]:
    """What the order brings: per hour, and per 24 h at its pace or its whole if given once.

    A maintenance bag is followed by the next, so it is counted at its pace however long the one
    at hand runs. None = cannot be worked out from what was written.
    """
    mix, rate = order.mix, order.rate_ml_h
    litres = order.litres_per_day
    if order.purpose == "maintenance" and rate is not None and not order.is_over:
        litres = rate * HOURS_PER_DAY / ML_PER_L

    def daily(per_litre: float | None) -> float | None:
        return None if litres is None or per_litre is None else per_litre * litres

    glucose_g_h = (
        None if rate is None or mix is None else mix.glucose_anhydrous_g_l * rate / ML_PER_L
    )
    weight = case.patient.weight_kg
    return {
        "water_ml_per_day": daily(ML_PER_L),
        "sodium_mmol_per_day": daily(mix.sodium_mmol_l if mix else None),
        "potassium_mmol_per_day": daily(mix.potassium_mmol_l if mix else None),
        "chloride_mmol_per_day": daily(mix.chloride_mmol_l if mix else None),
        "glucose_g_per_day": daily(mix.glucose_anhydrous_g_l if mix else None),
        "potassium_mmol_h": order.per_hour(mix.potassium_mmol_l) if mix else None,
        "glucose_mg_kg_min": None
        if glucose_g_h is None or weight is None
        else glucose_g_h * ML_PER_L / (MINUTES_PER_HOUR * weight),
    }


def _totals(orders: tuple[OrderReview, ...]) -> Mapping[str, float | None]:
    """Sum of each load over all orders; None where any order's is not known."""
    if not orders:
        return {}
    sums: dict[str, float | None] = {}
    for name in orders[0].loads:
        values = [order.loads[name] for order in orders]
        sums[name] = None if None in values else sum(v for v in values if v is not None)
    return sums
