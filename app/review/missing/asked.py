"""Which missing, stale or doubtful value would change what to do: nothing else is asked for."""

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

from app.cautions.assess import Found
from app.cautions.data_rules import DATA_MISSING, DATA_RULES, DATA_STALE, DATA_SUSPECT
from app.cautions.describe import need_text
from app.cautions.phrases import as_sentence, listed, lowered, opening
from app.cautions.rule import SUMMARY_AT_MOST, Finding, Rule
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case
from app.patient.known import Why
from app.patient.order import Order
from app.review.missing.lack import KIDNEY, SODIUM_HYPERTONIC, Lack, judged_by

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
RULE_FOR: Final[Mapping[Why, Rule]] = {
    "missing": DATA_MISSING,
    "stale": DATA_STALE,
    "suspect": DATA_SUSPECT,
}
CRITICAL: Final = 0
WARNING: Final = 1
NAMED_IN_SUMMARY: Final = 3
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
# What these rules lack is told in the ranked list, and asked for by none before a bag is hung.
LISTED_ONLY: Final = frozenset(
    {
        ("dka-child-fast", "age_years"),
        ("kid-rhabdo", "urine_ml_h"),
        ("phos-calcium", "calcium_ionised"),
        ("phos-calcium", "calcium_total"),
        ("ca-hyper", "calcium_ionised"),
        ("ca-hyper", "calcium_total"),
        ("res-under", "lactate"),
    }
)
# Nor is what changes too little to stop a bag.
NEVER_ASKED: Final = frozenset({"balance_24h_ml", "sex", "height_cm"})
# What is looked up or asked, and not taken from a vein.
NO_SAMPLE: Final = frozenset({"the line it runs on", "age", "sex", "the fluid", "height"})
PATIENT_FIELDS: Final = ("weight_kg", "age_years", "height_cm", "urine_ml_h", "balance_24h_ml")


def order_data_findings(order: Order, case: Case, lacks: Iterable[Lack]) -> tuple[Found, ...]:
    """One finding each for what is missing, stale and suspect and could change this order."""
    return tuple(_findings([lack for lack in lacks if _is_asked(lack, order, case)], (order.id,)))


def patient_data_findings(
    case: Case, lacks: Iterable[Lack], already: Iterable[Found]
) -> tuple[Found, ...]:
    """The same for the rules of the whole patient, less what an order already asks for."""
    told = {need for f in already if f.rule in DATA_RULES for need in f.finding.figures}
    asked = [
        lack
        for lack in lacks
        if lack.need not in told and any(_is_asked(lack, order, case) for order in case.orders)
    ]
    ids = tuple(order.id for order in case.orders)
    told |= {lack.need for lack in asked}
    return (*_findings(asked, ids), *_doubts(case, told, ids))


def _is_asked(lack: Lack, order: Order, case: Case) -> bool:
    """Whether a value is worth asking for: it decides about what this bag is judged by, or would
    make a critical finding; a fluid that any ward hangs freely asks for no rare result.
    """
    if case.patient.conditions.any_of(*NO_TIME_TO_ASK):
        return False
    if _is_only_listed(lack, case):
        return False
    if lack.rank > WARNING or (lack.need in KIDNEY and _child_with_good_potassium(case)):
        return False
    if lack.why != "missing" or lack.need in judged_by(order):
        return True
    if lack.need == "weight_kg" and child(case.patient):
        return True
    if lack.need == "sodium" and not _moves_sodium(order, case):
        return False
    return lack.rank == CRITICAL


def _is_only_listed(lack: Lack, case: Case) -> bool:
    """What is worth knowing and stops no bag; a child's age where the place does not tell it."""
    of_children = lack.rule.population == "child" and lack.need == "age_years"
    placed = case.patient.setting is not None
    by_rule = (lack.rule.id, lack.need) in LISTED_ONLY
    return (of_children and placed) or by_rule or lack.need in NEVER_ASKED


def _child_with_good_potassium(case: Case) -> bool:
    """Potassium in maintenance is routine in a child with a good result and no kidney history."""
    patient = case.patient
    potassium = patient.value_or_none("potassium")
    if potassium is None or potassium >= GOOD_POTASSIUM_BELOW or not child(case.patient):
        return False
    return not patient.conditions.any_of(*KIDNEYS_AT_RISK)


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
        "warning" if _doubt_decides(case, doubts) else "info",
        _short(f"Not used because in doubt: {names}."),
        as_sentence(opening("; ".join(doubts.values()))),
        figures=dict.fromkeys(doubts, "suspect"),
        order_ids=order_ids,
    )
    yield Found(DATA_SUSPECT, finding, NO_LIMITS)


def _doubt_decides(case: Case, doubts: Mapping[str, str]) -> bool:
    """Whether what is in doubt is what a bag at hand is judged by."""
    if _weight_decides(case, doubts):
        return True
    if any(not judged_by(order).isdisjoint(doubts) for order in case.orders):
        return True
    return "glucose" in doubts and any(
        order.fluid is not None and order.fluid.composition.glucose_g_l for order in case.orders
    )


def _weight_decides(case: Case, doubts: Mapping[str, str]) -> bool:
    """A weight in doubt matters to every child, to an adult on maintenance, to doses by weight."""
    if "weight_kg" not in doubts:
        return False
    return child(case.patient) or any(
        order.purpose == "maintenance" or _waits_for_weight(order) for order in case.orders
    )


def _waits_for_weight(order: Order) -> bool:
    """Ordered for each kilogram, so that without the weight nobody can set the pump."""
    return any("needs the weight" in question.ask for question in order.questions)
