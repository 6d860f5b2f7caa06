"""Shock with only a slow drip, and water given as a bolus."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import CHILD_FLUIDS, PRACTICE, SEPSIS_2021
from app.cautions.phrases import bag_name, number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import (
    is_fast,
    is_written,
    lacks_volume,
    recorded,
    running_ml_h,
    whole_volume_ml,
)
from app.cautions.shared.fluid_facts import (
    child,
    is_hypotonic,
    on_drug,
    water_is_treatment,
)
from app.cautions.shared.lines import blood_of
from app.patient.case import Case, Situation
from app.patient.known import NotKnown, known
from app.patient.order import SMALL_BAG_ML, Order
from app.patient.snapshot import Snapshot

SHOCK: Final = ("haemorrhagic_shock", "hypovolaemic_shock", "septic_shock", "shock")
OTHER_SHOCK: Final = (
    "neurogenic", "spinal", "obstructive", "tamponade", "embol", "resolv", "recover", "weaned",
)  # fmt: skip
# With low pressure or a high lactate these are shock by another name.
NEAR_SHOCK: Final = ("sepsis", "haemorrhage", "hypovolaemia", "dehydration")
BLEEDING: Final = ("haemorrhagic_shock", "haemorrhage", "massive_transfusion")
LOW_GLUCOSE_MMOL_L: Final = 4.0
HELD_BACK: Final = (
    "cardiogenic_shock", "heart_failure", "pulmonary_oedema", "fluid_overload", "dialysis",
    "end_of_life",
)  # fmt: skip


def slow_drip_in_shock(case: Case, limits: Limits) -> Iterator[Finding]:
    """Shock, and all that is ordered runs at a maintenance pace."""
    patient = case.patient
    if not any(_is_fluid(order) for order in case.orders) or _is_treated(case, limits):
        return
    if patient.conditions.any_of(*HELD_BACK) or patient.setting == "theatre":
        return
    shock = _shock(patient, limits)
    if not shock and not _lactate_would_tell(patient):
        return
    if any(order.rate_ml_h is None for order in case.orders):
        raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
    rate = running_ml_h(case)
    name, limit = _pace(patient, limits)
    if rate > limit:
        return
    if not shock:
        patient.value("lactate")
    lactate = patient.value_or_none("lactate")
    high = lactate is not None and lactate >= limits["lactate_high_mmol_l"]
    deadly = "shock" in patient.conditions and (high or patient.conditions.any_of(*BLEEDING))
    told = f", lactate {number(lactate)} mmol/L" if high and lactate is not None else ""
    yield Finding(
        "critical" if deadly else "warning",
        f"{shock.capitalize()}{told}, and only {number(rate)} mL/h is ordered.",
        f"Recorded: {shock}{told}. All orders together {number(rate)} mL/h; no bolus, no blood and "
        "no vasopressor is listed.",
        figures={"rate_ml_h": rate},
        limits=(name, "lactate_high_mmol_l"),
        order_ids=tuple(order.id for order in case.orders),
    )


def _is_fluid(order: Order) -> bool:
    """Ordered as fluid: no carrier, no correction, no small bag given once."""
    small = order.is_given_once and (order.volume_ml or 0.0) <= SMALL_BAG_ML
    return order.purpose not in ("carrier", "correction") and not small


def _shock(patient: Snapshot, limits: Limits) -> str:
    """The kind of shock that wants volume; empty when there is none."""
    lactate = patient.value_or_none("lactate")
    cleared = lactate is not None and lactate < limits["lactate_cleared_mmol_l"]
    if cleared and not patient.conditions.any_of(*BLEEDING):
        return ""
    named = recorded(patient, SHOCK)
    if named:
        return "" if is_written(patient, "shock", *OTHER_SHOCK) else named[0]
    near = recorded(patient, NEAR_SHOCK)
    if not near:
        return ""
    if "hypotension" in patient.conditions:
        return f"{near[0]} with low pressure"
    high = lactate is not None and lactate >= limits["lactate_high_mmol_l"]
    return f"{near[0]} with a high lactate" if high else ""


def _lactate_would_tell(patient: Snapshot) -> bool:
    """Sepsis with no usable lactate; a child's pace goes by weight, asked for elsewhere."""
    if "sepsis" not in patient.conditions or patient.value_or_none("lactate") is not None:
        return False
    return patient.weight_kg is not None or not child(patient)


def _is_treated(case: Case, limits: Limits) -> bool:
    """A bolus, blood or a vasopressor runs, or much fluid has gone in already."""
    if any(is_fast(order) for order in case.orders) or blood_of(case):
        return True
    vasoactive = any("vasoactive" in other.contents for other in case.co_infusions)
    if vasoactive or on_drug(case, "vasoactive"):
        return True
    balance, weight = case.patient.balance_24h_ml, case.patient.weight_kg
    if balance is None:
        return False
    return balance > limits["given_ml"] or (
        weight is not None and balance > limits["given_ml_kg"] * weight
    )


def _pace(patient: Snapshot, limits: Limits) -> tuple[str, float]:
    """The name of the limit and the rate up to which a drip is slow, mL/h."""
    if child(patient):
        return "slow_child_ml_kg_h", limits["slow_child_ml_kg_h"] * known(
            patient.weight_kg, "weight_kg"
        )
    return "slow_ml_h", limits["slow_ml_h"]


def water_as_bolus(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A hypotonic fluid given fast for volume."""
    order, patient = situation.order, situation.patient
    if not is_fast(order) or not is_hypotonic(situation.mix) or _is_meant(situation):
        return
    volume = known(whole_volume_ml(order), "volume_ml")
    name = "small_ml"
    limit = limits[name]
    if child(patient):
        name = "small_child_ml_kg"
        limit = limits[name] * known(patient.weight_kg, "weight_kg")
    if volume <= limit:
        return
    grave = child(patient) or lacks_volume(patient) or "brain_injury" in patient.conditions
    yield Finding(
        "critical" if grave else "warning",
        f"Bolus of {number(volume)} mL of {bag_name(order)}: the water leaves the circulation.",
        f"Sodium plus potassium in the fluid {number(situation.mix.cation_salt_mmol_l)} mmol/L; "
        "little stays in the vessels and sodium falls.",
        figures={"bolus_ml": volume},
        limits=(name,),
    )


def _is_meant(situation: Situation) -> bool:
    """Glucose for a low glucose, or water for a high sodium."""
    patient = situation.patient
    if water_is_treatment(patient):
        return True
    glucose = patient.value_or_none("glucose")
    low = glucose is not None and glucose < LOW_GLUCOSE_MMOL_L
    low = low or "hypoglycaemia" in patient.conditions
    return low and situation.mix.glucose_g_l > 0


RULES: Final = (
    Rule(
        id="res-under",
        title="Shock with only a slow drip",
        trigger="Septic, bleeding or hypovolaemic shock (or sepsis, bleeding or dehydration with "
        "low pressure or lactate of 4 mmol/L or more) and all orders together at most 200 mL/h "
        "(child: 5 mL/kg/h): critical with shock and bleeding or a lactate of 4 or more, else "
        "warning.",
        unless="a bolus, blood or a vasopressor is listed, lactate is under 2 mmol/L without "
        "bleeding, the balance is above 2 L or 30 mL/kg, the heart fails, overload, dialysis or "
        "end-of-life care; or volume was just given",
        do="Ask for review now: a measured bolus (250 to 500 mL; child 10 mL/kg) or blood, then "
        "look again.",
        evidence="Guidance asks for the first volume within the first hours. What was given before "
        "and is not in the list is not known here.",
        sources=(SEPSIS_2021, PRACTICE),
        needs=("rate_ml_h", "weight_kg", "lactate"),
        limits=(
            Limit("slow_ml_h", 200, "mL/h", "a slow drip in an adult", PRACTICE),
            Limit("slow_child_ml_kg_h", 5, "mL/kg/h", "a slow drip in a child", PRACTICE),
            Limit("lactate_high_mmol_l", 4, "mmol/L", "lactate of shock"),
            Limit("lactate_cleared_mmol_l", 2, "mmol/L", "lactate that shows flow", PRACTICE),
            Limit("given_ml", 2000, "mL", "balance that shows volume was given", PRACTICE),
            Limit("given_ml_kg", 30, "mL/kg", "the same by weight"),
        ),
        levels=("critical", "warning"),
        for_patient=slow_drip_in_shock,
    ),
    Rule(
        id="res-hypotonic",
        title="Hypotonic fluid as a bolus",
        trigger="A fluid with sodium plus potassium under 130 mmol/L as a bolus or for "
        "resuscitation, over 250 mL (child: 5 mL/kg): critical in a child, in brain injury or "
        "where volume is lacking, else warning.",
        unless="glucose is low, or sodium is high",
        do="Use a balanced crystalloid or 0.9% sodium chloride.",
        evidence="Guidance: sodium 130 to 154 mmol/L for resuscitation. Of a litre of 5% glucose "
        "about 80 mL stay in plasma.",
        sources=(CHILD_FLUIDS, PRACTICE),
        needs=("volume_ml", "weight_kg"),
        limits=(
            Limit("small_ml", 250, "mL", "an amount given for glucose", PRACTICE),
            Limit("small_child_ml_kg", 5, "mL/kg", "the same in a child", PRACTICE),
        ),
        levels=("critical", "warning"),
        for_order=water_as_bolus,
    ),
)
