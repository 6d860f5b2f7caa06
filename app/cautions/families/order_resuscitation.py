"""Boluses and balances: how much is too much without an expert's look."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import ADULT_EXPERT_HELP, CHILD_FLUIDS, PRACTICE, SEPSIS_2021
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import known_child
from app.patient.case import Case
from app.patient.known import known
from app.patient.order import Order
from app.patient.snapshot import Snapshot

ML_PER_KG_WATER: Final = 1000.0
DEHYDRATION_WHO: Final = Source("WHO, treatment of diarrhoea, 2005, plan C", seen=False)
LOST_BY_THE_GUT: Final = ("diarrhoea", "dehydration")
BLEEDING_OR_BURN: Final = ("haemorrhage", "massive_transfusion", "burns", "major_burns")
# Losses so large that a day's positive balance is the treatment.
BALANCE_IS_MEANT: Final = (
    *BLEEDING_OR_BURN, "trauma", "diabetic_ketoacidosis", "hyperosmolar_state", "dehydration",
    "hypovolaemia", "rhabdomyolysis",
)  # fmt: skip
CHILD_CAREFUL: Final = (
    "heart_failure", "kidney_disease", "diabetic_ketoacidosis", "trauma", "brain_injury",
    "fluid_overload",
)  # fmt: skip
OVERLOADED: Final = ("pulmonary_oedema", "fluid_overload")
HARMED_BY_BALANCE: Final = ("sepsis", "septic_shock", "acute_kidney_injury")


def _resuscitates(order: Order) -> bool:
    return order.is_bolus or order.purpose == "resuscitation"


def _is_crystalloid(order: Order) -> bool:
    return order.fluid is not None and order.fluid.kind == "crystalloid"


def _volume_ml(order: Order) -> float:
    if order.volume_ml is not None:
        return order.volume_ml
    return (order.rate_ml_h or 0) * (order.duration_h or 0)


def cumulative_crystalloid(case: Case, limits: Limits) -> Iterator[Finding]:
    """Resuscitation crystalloid in all above 2000 mL and above 30 mL/kg, in an adult."""
    orders = [o for o in case.orders if _resuscitates(o) and _is_crystalloid(o) and _volume_ml(o)]
    total = sum(_volume_ml(order) for order in orders)
    patient = case.patient
    if total <= limits["adult_ml"] or patient.conditions.any_of(*BLEEDING_OR_BURN):
        return
    if not patient.is_adult():
        return
    weight = patient.weight_kg
    by_weight = 0.0 if weight is None else limits["first_hours_ml_kg"] * weight
    excused = min(by_weight, limits["adult_cap_ml"])
    if weight and all(key in patient.conditions for key in LOST_BY_THE_GUT):
        excused = limits["gut_ml_kg"] * weight
    if total <= excused:
        return
    share = "" if weight is None else f" ({total / weight:.0f} mL/kg)"
    yield Finding(
        "warning",
        f"{number(total)} mL of resuscitation crystalloid is ordered in all{share}.",
        f"Resuscitation and bolus orders together: {number(total)} mL{share}; expert help from "
        f"{number(limits['adult_ml'])} mL on.",
        figures={"resuscitation_ml": round(total)},
        limits=("adult_ml", "first_hours_ml_kg", "adult_cap_ml"),
        order_ids=tuple(order.id for order in orders),
    )


def bolus_child(case: Case, limits: Limits) -> Iterator[Finding]:
    """A child's bolus, or all boluses together, above what is given before a look."""
    orders = [o for o in case.orders if _is_bolus(o, limits) and _is_isotonic(o)]
    patient = case.patient
    if not orders or not known_child(patient):
        return
    weight = known(patient.weight_kg, "weight_kg")
    limit, because = _bolus_limit(patient)
    worst = max(_volume_ml(order) for order in orders) / weight
    total = sum(_volume_ml(order) for order in orders) / weight
    bleeding = patient.conditions.any_of(*BLEEDING_OR_BURN)
    over_single = worst > limits[limit] * limits["rounding"]
    over_total = total >= limits["total_ml_kg"] and not bleeding
    if not over_single and not over_total:
        return
    critical = worst >= limits["slip_ml_kg"]
    said = f"one bolus of {worst:.0f} mL/kg" if over_single else f"boluses of {total:.0f} mL/kg"
    yield Finding(
        "critical" if critical else "warning",
        f"Child of {number(weight)} kg: {said}{because}.",
        f"Largest bolus {number(worst)} mL/kg, all together {number(total)} mL/kg{because}; "
        f"limits {number(limits[limit])} and {number(limits['total_ml_kg'])} mL/kg.",
        figures={"bolus_ml_kg": round(worst, 1), "total_ml_kg": round(total, 1)},
        limits=(limit, "total_ml_kg") + (("slip_ml_kg",) if critical else ()),
        order_ids=tuple(order.id for order in orders),
    )


def _is_bolus(order: Order, limits: Limits) -> bool:
    """Given within the hour or so; resuscitation that runs for longer is no bolus."""
    if not _resuscitates(order) or not _volume_ml(order):
        return False
    return order.duration_h is None or order.duration_h <= limits["bolus_h"]


def _is_isotonic(order: Order) -> bool:
    """Glucose and hypertonic boluses have limits of their own."""
    return order.fluid is not None and order.fluid.tonicity_class == "isotonic"


def _bolus_limit(patient: Snapshot) -> tuple[str, str]:
    """Name of the limit for one bolus in this child, and why it is the lower one."""
    if patient.is_neonate():
        return "careful_ml_kg", ", a newborn"
    shocked_ketoacidosis = "diabetic_ketoacidosis" in patient.conditions and (
        patient.conditions.any_of("shock", "septic_shock")
    )
    held = [key for key in CHILD_CAREFUL if key in patient.conditions]
    if held and not shocked_ketoacidosis:
        return "careful_ml_kg", f", with {held[0].replace('_', ' ')}"
    return "single_ml_kg", ""


def positive_balance(case: Case, limits: Limits) -> Iterator[Finding]:
    """A balance so positive, or overload already there, that more fluid needs a reason."""
    patient, balance = case.patient, case.patient.balance_24h_ml
    running = tuple(o.id for o in case.orders if o.purpose not in ("carrier", "correction"))
    if not running or (balance is None and not _balance_counts(patient)):
        return
    if patient.conditions.any_of(*BALANCE_IS_MEANT) or _still_resuscitated(case):
        return
    balance = known(balance, "balance_24h_ml")
    if balance <= 0:
        return
    held = [key for key in OVERLOADED if key in patient.conditions]
    limit = "overloaded_share" if held else "weight_share"
    if balance <= limits["adult_ml"]:
        weight = known(patient.weight_kg, "weight_kg") if balance > limits["least_ml"] else None
        if weight is None or balance / (weight * ML_PER_KG_WATER) <= limits[limit]:
            return
    share = _share(balance, patient.weight_kg)
    because = f" with {held[0].replace('_', ' ')}" if held else ""
    yield Finding(
        "warning",
        f"Balance +{number(balance)} mL in 24 h{share}{because}, and fluid still runs.",
        f"Charted balance +{number(balance)} mL{share}{because}.",
        figures={"balance_24h_ml": balance},
        limits=("adult_ml", limit),
        order_ids=running,
    )


def _balance_counts(patient: Snapshot) -> bool:
    """Overload recorded, or sepsis or injured kidneys in intensive care, which charts it: else
    a fluid asks for no balance.
    """
    if patient.conditions.any_of(*OVERLOADED):
        return True
    return patient.setting == "ICU" and patient.conditions.any_of(*HARMED_BY_BALANCE)


def _still_resuscitated(case: Case) -> bool:
    """In shock, lungs dry, and on nothing but resuscitation: the balance is the treatment's."""
    conditions = case.patient.conditions
    shocked = conditions.any_of("shock", "septic_shock") and "pulmonary_oedema" not in conditions
    return shocked and not any(order.purpose == "maintenance" for order in case.orders)


def _share(balance_ml: float, weight_kg: float | None) -> str:
    if weight_kg is None:
        return ""
    return f" ({balance_ml / weight_kg / ML_PER_KG_WATER:.0%} of body weight)"


RULES: Final = (
    Rule(
        id="ord-cumulative-crystalloid",
        title="Large cumulative crystalloid",
        trigger="An adult's resuscitation and bolus crystalloids come to over 2000 mL, and over "
        "30 mL/kg (at most 3000 mL counts as that); over 100 mL/kg in dehydration by diarrhoea.",
        unless="bleeding or a burn is recorded, or a senior has just reviewed",
        do="Ask for senior review of need, vasopressor and overload.",
        evidence="The first 30 mL/kg in sepsis is a weak suggestion since 2021; a large trial "
        "(CLOVERS, NEJM 2023;388:499) found no difference between less and more. Only orders in "
        "the list are counted, not what was given before.",
        sources=(ADULT_EXPERT_HELP, SEPSIS_2021),
        needs=(),
        limits=(
            Limit("adult_ml", 2000, "mL", "expert help from here"),
            Limit("first_hours_ml_kg", 30, "mL/kg", "first hours in sepsis", SEPSIS_2021),
            Limit("gut_ml_kg", 100, "mL/kg", "dehydration by diarrhoea", DEHYDRATION_WHO),
            Limit("adult_cap_ml", 3000, "mL", "most that 30 mL/kg may excuse", PRACTICE),
        ),
        population="adult",
        levels=("warning",),
        for_patient=cumulative_crystalloid,
    ),
    Rule(
        id="ord-bolus-child",
        title="Paediatric bolus volume high",
        trigger="One isotonic bolus over 20 mL/kg (10 in a newborn or with heart, kidney, brain "
        "or trauma, or ketoacidosis without shock), or boluses of 40 mL/kg in all; critical from "
        "60 mL/kg in one.",
        unless="an expert is at the bedside; bleeding for the sum",
        do="Give 10 mL/kg steps and reassess after each.",
        evidence="FEAST (NEJM 2011;364:2483): boluses raised deaths in African children with "
        "severe febrile illness. One tenth is allowed for rounding to a bag.",
        sources=(CHILD_FLUIDS, Source("FEAST, NEJM 2011;364:2483", "", seen=False)),
        needs=("age_years", "weight_kg"),
        limits=(
            Limit("single_ml_kg", 20, "mL/kg", "one bolus"),
            Limit("careful_ml_kg", 10, "mL/kg", "one bolus where care is needed"),
            Limit("total_ml_kg", 40, "mL/kg", "all boluses before expert advice"),
            Limit("slip_ml_kg", 60, "mL/kg", "as far off as a slipped point", PRACTICE),
            Limit("bolus_h", 1.5, "h", "longest that counts as a bolus", PRACTICE),
            Limit("rounding", 1.1, "times", "rounding to a whole bag", PRACTICE),
        ),
        population="child",
        levels=("critical", "warning"),
        for_patient=bolus_child,
    ),
    Rule(
        id="ord-positive-balance",
        title="Marked positive balance",
        trigger="A day's balance over 5 L or 10% of body weight, or over 3% with overload or lung "
        "oedema recorded, while fluid other than a carrier or a correction runs.",
        unless="bleeding, a burn or a deficit being replaced is recorded, or shock is still being "
        "resuscitated",
        do="Review for removing fluid, and stop what is not essential.",
        evidence="Association, not proof of cause. Only the last day's balance is known to us.",
        sources=(Source("Malbrain et al., Ann Intensive Care 2018;8:66", "", seen=False), PRACTICE),
        needs=("weight_kg", "balance_24h_ml"),
        limits=(
            Limit("adult_ml", 5000, "mL", "marked in anyone"),
            Limit("weight_share", 0.1, "of body weight", "marked by weight"),
            Limit("overloaded_share", 0.03, "of body weight", "with overload there", PRACTICE),
            Limit("least_ml", 100, "mL", "never marked", PRACTICE),
        ),
        levels=("warning",),
        for_patient=positive_balance,
    ),
)
