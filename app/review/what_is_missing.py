"""Which missing, stale or doubtful value would change what to do: nothing else is asked for."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import islice
from types import MappingProxyType
from typing import Final

from app.cautions.assess import Found, Ruleset
from app.cautions.data_rules import DATA_MISSING, DATA_RULES, DATA_STALE, DATA_SUSPECT
from app.cautions.describe import need_text
from app.cautions.phrases import as_sentence, listed, lowered, opening
from app.cautions.rule import LEVELS, Finding, Limits, NotAssessed, OrderCheck, PatientCheck, Rule
from app.patient.case import Case, Situation
from app.patient.known import NotKnown, Why
from app.patient.order import Order
from app.review.plausible import plausible_cases

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
RULE_FOR: Final[Mapping[Why, Rule]] = {
    "missing": DATA_MISSING,
    "stale": DATA_STALE,
    "suspect": DATA_SUSPECT,
}
CRITICAL: Final = 0
WARNING: Final = 1
QUIET: Final = len(LEVELS)
# A rule may lack a second value once the first is assumed; beyond that nothing is tried.
DEPTH: Final = 2
TRIALS_PER_RULE: Final = 12
NAMED_IN_SUMMARY: Final = 3
SUMMARY_AT_MOST: Final = 139
SODIUM_HYPERTONIC: Final = 250.0
FREE_WATER_BELOW: Final = 130.0
LITRES_THAT_MOVE_SODIUM: Final = 0.5
SODIUM_DISORDERS: Final = (
    "hyponatraemia", "hypernatraemia", "siadh", "diabetes_insipidus", "acute_hyponatraemia",
    "chronic_hyponatraemia", "severe_hyponatraemia_symptoms",
)  # fmt: skip
# What is given for the heart at once waits for no result.
NO_TIME_TO_ASK: Final = ("cardiac_arrest", "tricyclic_overdose")
GOOD_POTASSIUM_BELOW: Final = 5.0
KIDNEYS_AT_RISK: Final = (
    "kidney_disease", "shock", "septic_shock", "dehydration", "rhabdomyolysis", "tumour_lysis",
    "oliguria", "anuria", "diabetic_ketoacidosis",
)  # fmt: skip
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
# What is looked up or asked, and not taken from a vein.
NO_SAMPLE: Final = frozenset({"the line it runs on", "age", "sex", "the fluid", "height"})
PATIENT_FIELDS: Final = ("weight_kg", "age_years", "height_cm", "urine_ml_h", "balance_24h_ml")

Trial = Callable[[Case], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Lack:
    """A value that is not there, why, and how bad the worst plausible value would be.

    rule: the caution it would raise. rank: 0 critical, 1 warning, 2 info, 3 nothing.
    """

    need: str
    why: Why
    detail: str
    rank: int
    rule: Rule


def order_data_findings(
    order: Order, case: Case, not_assessed: Iterable[NotAssessed], ruleset: Ruleset
) -> tuple[Found, ...]:
    """One finding each for what is missing, stale and suspect and could change this order."""
    lacks = []
    for gap, rule in _with_rules(not_assessed, ruleset.order_rules):
        if rule.for_order is None:
            continue
        trial = partial(_try_order, rule.for_order, order.id, ruleset.limits[rule.id])
        lacks.append(_lack(rule, gap, case, order, trial))
    return tuple(_findings([lack for lack in lacks if _is_asked(lack, order, case)], (order.id,)))


def patient_data_findings(
    case: Case, not_assessed: Iterable[NotAssessed], already: Iterable[Found], ruleset: Ruleset
) -> tuple[Found, ...]:
    """The same for the rules of the whole patient, less what an order already asks for."""
    told = {need for f in already if f.rule in DATA_RULES for need in f.finding.figures}
    lacks = []
    for gap, rule in _with_rules(not_assessed, ruleset.patient_rules):
        if rule.for_patient is None or gap.needs[0] in told:
            continue
        trial = partial(_try_patient, rule.for_patient, ruleset.limits[rule.id])
        lacks.append(_lack(rule, gap, case, None, trial))
    asked = [k for k in lacks if any(_is_asked(k, order, case) for order in case.orders)]
    ids = tuple(order.id for order in case.orders)
    told |= {lack.need for lack in asked}
    return (*_findings(asked, ids), *_doubts(case, told, ids))


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
    why: Why = "missing" if any(need in judged_by(o) for o in orders) else gap.why
    ranks = _ranks(trial, case, order, NotKnown(need, why), DEPTH)
    rank = min(islice(ranks, TRIALS_PER_RULE), default=QUIET)
    doubt = next((q for q in case.questions if q.field.split(".")[-1] == need), None)
    if doubt is not None:
        return Lack(need, "suspect", doubt.ask, rank, rule)
    return Lack(need, gap.why, gap.detail, rank, rule)


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


def _is_asked(lack: Lack, order: Order, case: Case) -> bool:
    """Whether a value is worth asking for: it decides about what this bag is judged by, or would
    make a critical finding; a fluid that any ward hangs freely asks for no rare result.
    """
    if case.patient.conditions.any_of(*NO_TIME_TO_ASK):
        return False
    if lack.rank > WARNING or (lack.need in KIDNEY and _child_with_good_potassium(case)):
        return False
    if lack.why != "missing" or lack.need in judged_by(order):
        return True
    if lack.need == "weight_kg" and _is_child(case):
        return True
    if lack.need == "sodium" and not _moves_sodium(order, case):
        return False
    return lack.rank == CRITICAL


def _is_child(case: Case) -> bool:
    patient = case.patient
    told = patient.age_years is not None or patient.setting is not None
    return told and patient.is_child()


def _child_with_good_potassium(case: Case) -> bool:
    """Potassium in maintenance is routine in a child with a good result and no kidney history."""
    patient = case.patient
    potassium = patient.value_or_none("potassium")
    if potassium is None or potassium >= GOOD_POTASSIUM_BELOW or not _is_child(case):
        return False
    return not patient.conditions.any_of(*KIDNEYS_AT_RISK)


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


def _moves_sodium(order: Order, case: Case) -> bool:
    """A bag that moves plasma sodium, or a patient whose sodium is known to be off."""
    if case.patient.conditions.any_of(*SODIUM_DISORDERS):
        return True
    mix, litres = order.mix, order.litres_per_day
    if mix is None:
        return False
    if mix.sodium_mmol_l >= SODIUM_HYPERTONIC:
        return True
    return mix.cation_salt_mmol_l < FREE_WATER_BELOW and (litres or 0) > LITRES_THAT_MOVE_SODIUM


def _findings(lacks: Iterable[Lack], order_ids: tuple[str, ...]) -> Iterator[Found]:
    """One finding for each reason, its values worst first."""
    ranked = sorted(lacks, key=lambda lack: lack.rank)
    for why, rule in RULE_FOR.items():
        group = [lack for lack in ranked if lack.why == why]
        if group:
            yield Found(rule, _finding(why, group, order_ids), NO_LIMITS)


def _finding(why: Why, group: list[Lack], order_ids: tuple[str, ...]) -> Finding:
    by_need = {lack.need: lack for lack in reversed(group)}
    needs = tuple(dict.fromkeys(lack.need for lack in group))
    names = tuple(need_text(need) for need in needs)
    would = tuple(dict.fromkeys(lowered(lack.rule.title) for lack in group))
    details = "; ".join(_detail(by_need[need]) for need in needs)
    first = lowered(group[0].rule.title)
    return Finding(
        "warning",
        _short(f"{_opening(why, names, group[0].detail)}, so this is not ruled out: {first}."),
        f"{as_sentence(opening(details))} A plausible value would raise: {'; '.join(would)}.",
        figures={need: why for need in needs},
        do=_ask_for(why, names),
        order_ids=order_ids,
    )


def _detail(lack: Lack) -> str:
    if lack.detail == f"no {lack.need.replace('_', ' ')} result":
        return f"no {need_text(lack.need)} result"
    return lack.detail or f"no {need_text(lack.need)}"


def _opening(why: Why, names: tuple[str, ...], detail: str) -> str:
    shown, are = listed(names[:NAMED_IN_SUMMARY]), "is" if len(names) == 1 else "are"
    if why == "stale":
        if len(names) == 1 and detail:
            return opening(detail)
        return f"{opening(shown)} {are} too old"
    return f"{opening(shown)} {are} {'in doubt' if why == 'suspect' else 'not known'}"


def _short(summary: str) -> str:
    if len(summary) <= SUMMARY_AT_MOST:
        return summary
    return f"{summary.split(':')[0][: SUMMARY_AT_MOST - 1]}."


def _ask_for(why: Why, names: tuple[str, ...]) -> str:
    what = listed(names)
    if why == "suspect":
        return f"Check {what} at its source, or repeat the sample, before this goes on."
    if why == "stale":
        return f"Take a new sample for {what} before this goes on."
    find = "Find out" if any(name in NO_SAMPLE for name in names) else "Get"
    needed = "it is" if len(names) == 1 else "they are"
    return f"{find} {what} before this is given or goes on, or record why {needed} not needed."


def _doubts(case: Case, told: set[str], order_ids: tuple[str, ...]) -> Iterator[Found]:
    """Values in doubt that change nothing here: said once, quietly."""
    doubts = {
        name: f"{name.replace('_', ' ')} {observations[0].as_written}: {observations[0].doubt}"
        for name, observations in case.patient.results.items()
        if observations[0].value is None and name not in told
    }
    for question in case.questions:
        name = question.field.split(".")[-1]
        if name in PATIENT_FIELDS and name not in told:
            doubts[name] = f"{need_text(name)} {question.written}: {question.ask}"
    if not doubts:
        return
    names = listed(tuple(need_text(name) for name in doubts)[:NAMED_IN_SUMMARY])
    finding = Finding(
        "warning" if _weight_decides(case, doubts) else "info",
        _short(f"Not used because in doubt: {names}."),
        as_sentence(opening("; ".join(doubts.values()))),
        figures=dict.fromkeys(doubts, "suspect"),
        order_ids=order_ids,
    )
    yield Found(DATA_SUSPECT, finding, NO_LIMITS)


def _weight_decides(case: Case, doubts: Mapping[str, str]) -> bool:
    """A weight in doubt matters to every child, and to an adult on maintenance."""
    if "weight_kg" not in doubts:
        return False
    return _is_child(case) or any(order.purpose == "maintenance" for order in case.orders)
