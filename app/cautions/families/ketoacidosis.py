"""Ketoacidosis: a child's fluid, the glucose that insulin needs, saline's chloride."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, number, opening, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast, whole_volume_ml
from app.cautions.shared.fluid_facts import is_hypotonic, known_child
from app.patient.case import Case, Situation
from app.patient.known import NotKnown, known
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.maintenance import maintenance_4_2_1_ml_h

ISPAD: Final = Source("ISPAD consensus, ketoacidosis, 2022", seen=False)
PECARN: Final = Source("PECARN FLUID, N Engl J Med 2018;378:2275", seen=False)
SELF: Final = Source("Self et al., JAMA Netw Open 2020;3:e2024596", seen=False)
JBDS: Final = Source("JBDS guideline, ketoacidosis in adults, 2023", seen=False)
SHOCK: Final = ("shock", "septic_shock")
BELOW_YEARS: Final = 18.0
HOURS_PER_DAY: Final = 24.0


def child_too_fast(case: Case, limits: Limits) -> Iterator[Finding]:
    """A child in ketoacidosis: a large bolus, or a deficit replaced within less than a day."""
    patient = case.patient
    if "diabetic_ketoacidosis" not in patient.conditions or not case.orders:
        return
    if not _is_young(patient):
        return
    weight = known(patient.weight_kg, "weight_kg")
    yield from _boluses(case, weight, limits)
    goes_on = [order for order in case.orders if not is_fast(order)]
    if any(order.rate_ml_h is None for order in goes_on):
        raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
    rate = sum(order.rate_ml_h or 0.0 for order in goes_on)
    deficit = limits["deficit_ml_kg"] * weight / HOURS_PER_DAY
    most = (maintenance_4_2_1_ml_h(weight) + deficit) * limits["slack"]
    if rate <= most:
        return
    brain = "brain_injury" in patient.conditions
    yield Finding(
        "critical" if brain or rate > most * limits["far_over"] else "warning",
        f"Child of {number(weight)} kg in ketoacidosis: {number(rate)} mL/h; a 10% deficit over a "
        f"day takes {number(round(most / limits['slack']))} mL/h.",
        f"All orders but boluses {number(rate)} mL/h ({number(rate / weight)} mL/kg/h); "
        f"maintenance and {number(limits['deficit_ml_kg'])} mL/kg over 24 h are "
        f"{number(round(most / limits['slack']))} mL/h.",
        figures={"rate_ml_h": rate},
        limits=("deficit_ml_kg", "slack", "far_over"),
        order_ids=tuple(order.id for order in goes_on),
    )


def _is_young(patient: Snapshot) -> bool:
    if patient.age_years is not None:
        return patient.age_years < BELOW_YEARS
    return known_child(patient)


def _boluses(case: Case, weight_kg: float, limits: Limits) -> Iterator[Finding]:
    if case.patient.conditions.any_of(*SHOCK):
        return
    fast = [order for order in case.orders if is_fast(order)]
    total = sum(whole_volume_ml(order) or 0.0 for order in fast) / weight_kg
    if total <= limits["bolus_ml_kg"]:
        return
    yield Finding(
        "warning",
        f"Child of {number(weight_kg)} kg in ketoacidosis without shock: boluses of "
        f"{number(total)} mL/kg.",
        f"Boluses together {number(total)} mL/kg; {number(limits['bolus_ml_kg'])} mL/kg is the "
        "most without shock.",
        figures={"bolus_ml_kg": total},
        limits=("bolus_ml_kg",),
        order_ids=tuple(order.id for order in fast),
    )


def no_glucose_with_insulin(case: Case, limits: Limits) -> Iterator[Finding]:
    """Insulin goes on, glucose has fallen, and no fluid brings any."""
    patient = case.patient
    state = patient.conditions.any_of("diabetic_ketoacidosis", "hyperosmolar_state")
    insulin = any(other.key == "insulin" for other in case.co_infusions)
    # A glucose never recorded is another chart's: insulin in ketoacidosis has it hourly.
    told = "glucose" in patient.results
    if not (state and insulin and told) or not case.orders or _brings_glucose(case):
        return
    glucose = patient.value("glucose")
    if glucose >= limits["glucose_mmol_l"]:
        return
    very_low = glucose < limits["glucose_very_low_mmol_l"]
    yield Finding(
        "critical" if very_low else "warning",
        f"Glucose {number(glucose)} mmol/L, insulin runs, and no order brings glucose.",
        f"{opening(reading(patient, 'glucose'))}; insulin runs; no fluid ordered holds "
        "glucose, and ketones need insulin to go on.",
        figures={"glucose_mmol_l": glucose},
        limits=("glucose_mmol_l", "glucose_very_low_mmol_l"),
        order_ids=tuple(order.id for order in case.orders),
    )


def _brings_glucose(case: Case) -> bool:
    if any(order.mix is None or order.mix.glucose_g_l for order in case.orders):
        return True
    return any(
        "glucose" in other.contents or other.kind == "nutrition" for other in case.co_infusions
    )


def saline_and_chloride(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """0.9% saline in ketoacidosis once chloride is high."""
    patient, order = situation.patient, situation.order
    if "diabetic_ketoacidosis" not in patient.conditions or not _is_saline(order, limits):
        return
    chloride = patient.value_or_none("chloride")
    if chloride is None or chloride <= limits["chloride_high_mmol_l"]:
        return
    yield Finding(
        "info",
        f"Ketoacidosis, chloride {number(chloride)} mmol/L, and {bag_name(order)} goes on.",
        f"{opening(reading(patient, 'chloride'))}; the fluid holds "
        f"{number(situation.mix.chloride_mmol_l or 0)} mmol/L. The acidosis may by now be "
        "saline's.",
        figures={"chloride_mmol_l": chloride},
        limits=("chloride_high_mmol_l", "chloride_rich_mmol_l"),
    )


def _is_saline(order: Order, limits: Limits) -> bool:
    mix = order.mix
    if mix is None or is_fast(order) or is_hypotonic(mix) or mix.chloride_mmol_l is None:
        return False
    return mix.chloride_mmol_l >= limits["chloride_rich_mmol_l"]


RULES: Final = (
    Rule(
        id="dka-child-fast",
        title="A child's ketoacidosis: fluid too fast",
        trigger="Under 18 years in ketoacidosis: boluses over 20 mL/kg without shock, or a rate "
        "above maintenance plus 100 mL/kg in 24 h by over a tenth; critical above 1.5 times that, "
        "or with brain injury or swelling.",
        unless="shock is recorded (for the bolus)",
        do="Plan the deficit over 24 to 48 h; watch consciousness each hour.",
        evidence="A large trial found no difference between faster and slower plans within this "
        "range, nor between 0.45% and 0.9% saline.",
        sources=(ISPAD, PECARN),
        needs=("age_years", "weight_kg", "rate_ml_h"),
        limits=(
            Limit("bolus_ml_kg", 20, "mL/kg", "all boluses without shock"),
            Limit("deficit_ml_kg", 100, "mL/kg", "largest deficit that is planned for"),
            Limit("slack", 1.1, "times", "rounding", PRACTICE),
            Limit("far_over", 1.5, "times", "far above any plan", PRACTICE),
        ),
        population="child",
        levels=("critical", "warning"),
        for_patient=child_too_fast,
    ),
    Rule(
        id="dka-glucose",
        title="Insulin without glucose",
        trigger="Ketoacidosis or a hyperosmolar state, insulin runs, the glucose in the record is "
        "under 14 mmol/L and no order or infusion brings any; critical under 6 mmol/L.",
        unless="insulin has been stopped, or the patient eats",
        do="Add 10% glucose beside the salt solution (or 5% in it) and go on with insulin.",
        evidence="Ketones clear only while insulin runs; glucose keeps it possible.",
        sources=(JBDS, ISPAD),
        limits=(
            Limit("glucose_mmol_l", 14, "mmol/L", "glucose from which some must run"),
            Limit("glucose_very_low_mmol_l", 6, "mmol/L", "glucose near low", PRACTICE),
        ),
        levels=("critical", "warning"),
        for_patient=no_glucose_with_insulin,
    ),
    Rule(
        id="dka-fluid-choice",
        title="Saline once chloride is high in ketoacidosis",
        trigger="Ketoacidosis, a fluid with 150 mmol/L of chloride or more that is no bolus, and "
        "chloride above 110 mmol/L.",
        unless="potassium has to be added and only saline comes with it",
        do="Consider a balanced fluid; judge clearing by ketones, not by bicarbonate.",
        evidence="In two trials' subgroup acidosis cleared about four hours sooner with balanced "
        "fluid.",
        sources=(SELF,),
        limits=(
            Limit("chloride_high_mmol_l", 110, "mmol/L", "high plasma chloride", PRACTICE),
            Limit("chloride_rich_mmol_l", 150, "mmol/L", "chloride-rich fluid", PRACTICE),
        ),
        levels=("info",),
        for_order=saline_and_chloride,
    ),
)
