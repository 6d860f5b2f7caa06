"""What an order must state: weight behind it, rate, end, purpose, whole bags."""

import re
from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.cited import ADULT_PLAN, ADULT_PURPOSE, ADULT_STOP, CHILD_WEIGHT, PRACTICE
from app.cautions.day_loads import is_upkeep, litres_in_day, running_h
from app.cautions.facts import CARRIER_ML_H
from app.cautions.phrases import NUTRITION, bag_name, number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import child
from app.patient.case import Case, Situation
from app.patient.order import Order
from app.patient.snapshot import Snapshot

VOLUME_MATTERS_IN: Final = (
    "heart_failure", "pulmonary_oedema", "fluid_overload", "dialysis", "anuria", "hyponatraemia",
)  # fmt: skip
WITHOUT_END: Final = re.compile(
    r"\buntil (?:discontinued|stopped|further|told|cancelled)\b|\bindefinite|\bno (?:stop|end)\b"
)
RATE_FIELDS: Final = ("rate_ml_h", "rate_text", "order_text", "duration_h")
# A whole bag that comes within this share of the plan counts as whole.
BAG_TOLERANCE: Final = 0.02


def weight_missing(case: Case, limits: Limits) -> Iterator[Finding]:
    """No weight, or an old one: loud where checks by weight decide about these orders."""
    if not case.orders or any(q.field.endswith("weight_kg") for q in case.questions):
        return
    patient = case.patient
    is_child = child(patient)
    if patient.weight_kg is None:
        yield _no_weight(case, is_child, limits)
        return
    taken = patient.weight_taken_at
    age = None if taken is None else patient.now - taken
    limit_h = limits["child_weight_age_h" if is_child else "adult_weight_age_h"]
    if age is None or age <= timedelta(hours=limit_h):
        return
    days = age.total_seconds() / timedelta(days=1).total_seconds()
    yield Finding(
        "info",
        f"Weight {number(patient.weight_kg)} kg was taken {days:.0f} days ago.",
        f"Weight {patient.weight_kg:g} kg, {days:.0f} days old.",
        figures={"weight_kg": patient.weight_kg, "weight_age_days": round(days, 1)},
        limits=("child_weight_age_h" if is_child else "adult_weight_age_h",),
        order_ids=tuple(order.id for order in case.orders),
    )


def _no_weight(case: Case, is_child: bool, limits: Limits) -> Finding:
    ids = tuple(order.id for order in case.orders)
    if is_child:
        return Finding(
            "warning",
            "No weight recorded for this child: fluid cannot be checked by weight.",
            "No weight in the record; a child's fluid is dosed by weight.",
            order_ids=ids,
        )
    upkeep = [litres_in_day(o, case) or 0 for o in case.orders if o.purpose == "maintenance"]
    a_day = sum(upkeep) * ML_PER_L
    loud = a_day > limits["adult_ml_day"]
    amount = f" for {number(a_day)} mL a day of maintenance" if loud else ""
    return Finding(
        "warning" if loud else "info",
        f"No weight recorded{amount}: need by weight cannot be checked.",
        f"No weight in the record{amount}.",
        figures={"maintenance_ml_day": round(a_day)} if loud else {},
        limits=("adult_ml_day",) if loud else (),
        order_ids=ids,
    )


def rate_missing(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Neither a rate nor a volume with its time; a bolus needs its volume only."""
    order = situation.order
    if order.rate_ml_h is not None:
        return
    if order.volume_ml is not None and (order.duration_h is not None or order.is_bolus):
        return
    if order.carries_a_drug or "loss_for_loss" in order.reasons:
        return
    ml = order.volume_ml
    has = f"only a volume, {number(ml)} mL" if ml else "neither rate nor volume is stated"
    risk = _volume_matters(situation.patient)
    yield Finding(
        "critical" if risk or _cannot_be_given(order, limits) else "warning",
        f"No rate for {bag_name(order)}: {has}" + (f"; {risk}." if risk else "."),
        f"“{order.written}”: {has}" + (f". It matters: {risk}." if risk else "."),
    )


def _cannot_be_given(order: Order, limits: Limits) -> bool:
    """A bag of fluid that nothing says how to run: two hours or twelve, nobody can tell."""
    unread = order.fluid is None and not order.candidates
    if unread or order.is_bolus or order.purpose in ("resuscitation", "carrier", "correction"):
        return False
    if any(question.field.split(".")[-1] in RATE_FIELDS for question in order.questions):
        return False
    return order.volume_ml is None or order.volume_ml > limits["small_ml"]


def _volume_matters(patient: Snapshot) -> str:
    """What in this patient makes a guessed rate harmful; empty when nothing does."""
    if child(patient):
        return "the patient is a child"
    held = [key for key in VOLUME_MATTERS_IN if key in patient.conditions]
    return f"the patient has {held[0].replace('_', ' ')}" if held else ""


def duration_missing(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A continuous order with no end and no review time, or a plan of more than a day."""
    order = situation.order
    if order.rate_ml_h is None or order.is_bolus or order.purpose == "carrier":
        return
    if order.stated_duration and order.duration_h is not None:
        yield from _long_plan(situation, order.duration_h, limits)
        return
    if order.volume_ml is not None or order.duration_h is not None or order.review_at is not None:
        return
    ran = running_h(order, situation.case)
    overdue = ran is not None and ran > limits["plan_h"]
    upkeep = order.purpose == "maintenance" and not order.text
    endless = upkeep or WITHOUT_END.search(f"{order.written} {order.text}".lower()) is not None
    loud = order.rate_ml_h > CARRIER_ML_H and (overdue or endless)
    so_far = f", and it has run {ran:.0f} h" if ran else ""
    yield Finding(
        "warning" if loud else "info",
        f"No end and no review time{so_far}.",
        f"{number(order.rate_ml_h)} mL/h with no volume, no end and no review time{so_far}.",
        figures={"running_h": round(ran, 1)} if ran else {},
        limits=("plan_h",) if ran else (),
    )


def _long_plan(situation: Situation, hours: float, limits: Limits) -> Iterator[Finding]:
    rate = situation.order.rate_ml_h or 0
    if (
        hours <= limits["plan_h"]
        or rate <= CARRIER_ML_H
        or "end_of_life" in (situation.patient.conditions)
    ):
        return
    yield Finding(
        "warning" if hours > limits["long_plan_h"] else "info",
        f"Ordered for {number(hours)} h ahead without a review.",
        f"{number(rate)} mL/h planned for {number(hours)} h.",
        figures={"duration_h": hours},
        limits=("plan_h", "long_plan_h"),
    )


def pack_mismatch(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A volume that leaves a small rest in the last bag."""
    order = situation.order
    if order.fluid is None or order.volume_ml is None or not order.fluid.pack_sizes_ml:
        return
    if order.is_bolus or order.volume_ml < min(order.fluid.pack_sizes_ml):
        return
    rest = min(_rest_ml(order.volume_ml, pack) for pack in order.fluid.pack_sizes_ml)
    if rest == 0 or rest >= limits["rest_ml"]:
        return
    packs = ", ".join(f"{size:g}" for size in order.fluid.pack_sizes_ml)
    yield Finding(
        "info",
        f"{number(order.volume_ml)} mL is not whole bags: {rest:.0f} mL over.",
        f"{number(order.volume_ml)} mL planned; bags come in {packs} mL.",
        figures={"volume_ml": order.volume_ml, "rest_ml": round(rest)},
        limits=("rest_ml",),
    )


def _rest_ml(volume_ml: float, pack_ml: float) -> float:
    bags = max(round(volume_ml / pack_ml), 1)
    if abs(volume_ml - bags * pack_ml) <= BAG_TOLERANCE * pack_ml:
        return 0.0
    return volume_ml % pack_ml


def indication_missing(situation: Situation, _limits: Limits) -> Iterator[Finding]:
    """No purpose stated: what is right differs by purpose."""
    order = situation.order
    if order.purpose is not None or order.purpose_written or order.is_bolus:
        return
    if any(additive.substance == NUTRITION for additive in order.additives):
        return
    yield Finding(
        "info",
        f"No purpose stated for {bag_name(order)}.",
        f"“{order.written}” is ordered with no purpose stated.",
    )


def oral_possible(situation: Situation, _limits: Limits) -> Iterator[Finding]:
    """Maintenance in a patient recorded as drinking."""
    conditions = situation.patient.conditions
    if "drinking" not in conditions or "nil_by_mouth" in conditions:
        return
    if not is_upkeep(situation.order):
        return
    yield Finding(
        "info",
        "Drinking, and maintenance fluid still runs.",
        f"Recorded: {conditions.detail.get('drinking', 'drinking')}.",
    )


RULES: Final = (
    Rule(
        id="ord-weight-missing",
        title="Weight missing",
        trigger="No weight recorded: warning in a child, and in an adult on more than 1500 mL a "
        "day of maintenance; info otherwise and when the weight is old.",
        unless="a weight, or an estimate marked as one, is on another chart; a weight in doubt is "
        "asked about by data-suspect",
        do="Weigh, or record an estimate marked as an estimate.",
        evidence="Weight is often missing on fluid orders, and every check by weight then stops. "
        "1500 mL is 30 mL/kg of a 50 kg adult: below it no usual weight changes the advice.",
        sources=(CHILD_WEIGHT, PRACTICE),
        needs=(),
        limits=(
            Limit("adult_ml_day", 1500, "mL/day", "maintenance that needs an adult's weight"),
            Limit("adult_weight_age_h", 168, "h", "age at which an adult's weight is old"),
            Limit("child_weight_age_h", 24, "h", "age at which a child's weight is old"),
        ),
        levels=("warning", "info"),
        for_patient=weight_missing,
    ),
    Rule(
        id="ord-rate-missing",
        title="Rate or volume missing",
        trigger="Neither a rate nor a volume with its duration (a bolus needs its volume only): "
        "critical. A warning for up to 250 mL, a bolus, a carrier or correction, or a rate that is "
        "written in doubt, unless the patient is a child or volume itself harms (heart failure, "
        "overload, dialysis, anuria, low sodium).",
        unless="losses are replaced mL for mL, or a drug's own protocol or the pump sets the rate",
        do="Ask the prescriber to state rate and volume before the bag is hung.",
        evidence="An order without a rate cannot be given as meant: a litre may run in two hours "
        "or in twelve, and whoever hangs it would have to guess.",
        sources=(ADULT_PLAN, CHILD_WEIGHT),
        limits=(Limit("small_ml", 250, "mL", "a volume of little harm at any rate", PRACTICE),),
        levels=("critical", "warning"),
        for_order=rate_missing,
    ),
    Rule(
        id="ord-duration-missing",
        title="No stop or review time",
        trigger="A continuous order with neither volume, end nor review time: info; warning for "
        "maintenance, for words such as until discontinued, and once it has run over 24 h. Or one "
        "planned over 24 h ahead: info, warning over 48 h.",
        unless="it is a carrier, keeps a vein open, or is part of end-of-life care",
        do="Add a stop or review time within 24 hours.",
        evidence="A plan longer than a day drifts away from need.",
        sources=(ADULT_PLAN,),
        limits=(
            Limit("plan_h", 24, "h", "longest plan without a review"),
            Limit("long_plan_h", 48, "h", "plan that is certainly too long", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=duration_missing,
    ),
    Rule(
        id="ord-pack-mismatch",
        title="Planned volume is not whole bags",
        trigger="The volume leaves less than 100 mL over whole bags of any size we list.",
        unless="the rest is meant to be discarded",
        do="State what happens to the rest, or adjust the volume.",
        evidence="Small rests are run in by mistake or thrown away.",
        sources=(PRACTICE,),
        limits=(Limit("rest_ml", 100, "mL", "a rest that small is hardly meant"),),
        levels=("info",),
        for_order=pack_mismatch,
    ),
    Rule(
        id="ord-indication-missing",
        title="Reason for fluid not stated",
        trigger="No purpose is stated and the order is no bolus.",
        unless="it is nutrition, or the purpose is clear to everyone who gives it",
        do="Record the purpose: resuscitation, maintenance, replacement, redistribution, carrier.",
        evidence="The right composition and rate differ by purpose.",
        sources=(ADULT_PURPOSE,),
        levels=("info",),
        for_order=indication_missing,
    ),
    Rule(
        id="ord-oral-possible",
        title="Drinking patient still on maintenance",
        trigger="Recorded as drinking, not nil by mouth, with maintenance fluid.",
        unless="what is drunk does not meet the need",
        do="Consider stopping or stepping down the intravenous maintenance.",
        evidence="The safest maintenance fluid is the one no longer needed.",
        sources=(ADULT_STOP,),
        levels=("info",),
        for_order=oral_possible,
    ),
)
