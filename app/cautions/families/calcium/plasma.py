"""Calcium to a patient whose calcium is high, or who takes digoxin."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import CALCIUMS, lack_of_calcium
from app.cautions.phrases import bag_name, infusion_name, opening, reading
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import litres_within, on_drug
from app.patient.case import Case, Situation
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

GLUCONATE_LABEL: Final = Source("US calcium gluconate injection label", "5.1", seen=True)
CLASS_LABEL: Final = Source("Labels of fluids with calcium, class caution")
STONE_HEART: Final = Source("Levine et al., J Emerg Med 2011;40:41", seen=False)
HOURS_PER_DAY: Final = 24.0
# Above any balanced fluid: a calcium salt was put in.
SALT_FROM_MMOL_L: Final = 5.0
ALBUMIN_NORMAL_G_L: Final = 40.0
PER_ALBUMIN_MMOL: Final = 0.02
SALTS: Final = ("calcium_gluconate", "calcium_chloride", "calcium")
URGENT: Final = ("cardiac_arrest", "massive_transfusion")
CALLS_FOR_CALCIUM: Final = (
    "hypocalcaemia", "hyperkalaemia", "cardiac_arrest", "massive_transfusion",
)  # fmt: skip
POTASSIUM_URGENT_MMOL_L: Final = 6.5


def calcium_fluid_in_hypercalcaemia(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid with calcium, more than a litre a day, when calcium is high."""
    order, mix = situation.order, situation.order.mix
    if mix is None or mix.calcium_mmol_l <= 0:
        return
    salt = mix.calcium_mmol_l > SALT_FROM_MMOL_L
    litres = litres_within(order, HOURS_PER_DAY)
    if not salt and (litres is None or litres <= limits["litres_day"]):
        return
    high = _high_calcium(situation.patient, limits, salt=salt)
    if high:
        yield _high_finding("info" if order.is_bolus and not salt else "warning", order, high)


def calcium_drug_in_hypercalcaemia(case: Case, limits: Limits) -> Iterator[Finding]:
    """A calcium salt when calcium is high."""
    given = [o for o in case.co_infusions if o.key in SALTS and not o.carried_by]
    high = _high_calcium(case.patient, limits, salt=True) if given else ""
    for other in given:
        if high:
            yield _high_finding("warning", other, high)


def _high_calcium(patient: Snapshot, limits: Limits, *, salt: bool) -> str:
    """What says that calcium is high, empty when nothing does; a result goes before a word.

    NotKnown where a result cannot be used, or a salt is given with none and for no plain reason.
    """
    ionised = patient.value_or_none("calcium_ionised")
    if ionised is not None:
        high = ionised > limits["calcium_ionised_mmol_l"]
        return reading(patient, "calcium_ionised") if high else ""
    total = patient.value_or_none("calcium_total")
    if total is not None:
        albumin = patient.value_or_none("albumin")
        lack = 0.0 if albumin is None else max(0.0, ALBUMIN_NORMAL_G_L - albumin)
        high = total + PER_ALBUMIN_MMOL * lack > limits["calcium_total_mmol_l"]
        return reading(patient, "calcium_total") if high else ""
    if "hypercalcaemia" in patient.conditions:
        return "hypercalcaemia recorded"
    measured = any(patient.results.get(name) for name in CALCIUMS)
    if measured or (salt and not _calls_for_calcium(patient)):
        raise lack_of_calcium(patient)
    return ""


def _calls_for_calcium(patient: Snapshot) -> bool:
    potassium = patient.value_or_none("potassium")
    high = potassium is not None and potassium >= POTASSIUM_URGENT_MMOL_L
    return high or patient.conditions.any_of(*CALLS_FOR_CALCIUM)


def _high_finding(level: str, what: Order | CoInfusion, high: str) -> Finding:
    name = bag_name(what) if isinstance(what, Order) else infusion_name(what)
    return Finding(
        "info" if level == "info" else "warning",
        f"{opening(high)}, and {name} brings more calcium.",
        f"{opening(high)}; {name} holds calcium.",
        figures={"calcium": opening(high)},
        limits=("calcium_ionised_mmol_l", "calcium_total_mmol_l"),
    )


def calcium_with_digoxin(case: Case, _: Limits) -> Iterator[Finding]:
    """A calcium salt to a patient on digoxin."""
    if not on_drug(case, "digoxin"):
        return
    salts = [f"calcium in {bag_name(order)}" for order in case.orders if _is_salt(order)]
    salts += [infusion_name(o) for o in case.co_infusions if o.key in SALTS and not o.carried_by]
    if not salts:
        return
    potassium = case.patient.value_or_none("potassium")
    high = potassium is not None and potassium >= POTASSIUM_URGENT_MMOL_L
    urgent = case.patient.conditions.any_of(*URGENT)
    yield Finding(
        "info" if urgent else "warning",
        f"{opening(salts[0])} by vein and digoxin: slowly, diluted, with the ECG watched.",
        f"Digoxin is given, and so is {salts[0]}."
        + (
            f" {opening(reading(case.patient, 'potassium'))}: calcium may be needed."
            if high
            else ""
        ),
        figures={"calcium_from": salts[0]},
        order_ids=tuple(order.id for order in case.orders if _is_salt(order)),
    )


def _is_salt(order: Order) -> bool:
    """A bag with a calcium salt in it; a balanced fluid's own calcium is not one."""
    if order.mix is not None:
        return order.mix.calcium_mmol_l > SALT_FROM_MMOL_L
    return any("calcium" in additive.substance for additive in order.additives)


RULES: Final = (
    Rule(
        id="ca-hyper",
        title="Calcium when calcium is high",
        trigger="Ionised calcium above 1.40 mmol/L (or total above 2.65, by albumin; or "
        "hypercalcaemia recorded with no result) and more than 1 L a day of a fluid with calcium, "
        "or any calcium salt; a bolus is info.",
        unless="a result shows calcium is not high",
        do="Use a fluid without calcium, as a rule 0.9% sodium chloride.",
        evidence="A litre of lactated Ringer's holds 1.4 mmol, little beside the body's own flow; "
        "there is simply no reason for it here.",
        sources=(CLASS_LABEL, PRACTICE),
        needs=("calcium_ionised",),
        limits=(
            Limit("calcium_ionised_mmol_l", 1.40, "mmol/L", "ionised calcium that is high"),
            Limit("calcium_total_mmol_l", 2.65, "mmol/L", "total calcium that is high"),
            Limit("litres_day", 1, "L/24 h", "volume that matters"),
        ),
        levels=("warning", "info"),
        for_order=calcium_fluid_in_hypercalcaemia,
        for_patient=calcium_drug_in_hypercalcaemia,
    ),
    Rule(
        id="ca-digoxin",
        title="Calcium by vein with digoxin",
        trigger="A calcium salt by vein and digoxin among the drugs; info in cardiac arrest "
        "and massive transfusion.",
        unless="the calcium is only what a balanced fluid or nutrition holds",
        do="Give it slowly and diluted with the ECG watched, or ask whether it is needed.",
        evidence="The label warns of arrhythmia. Deaths were five old cases; later series of "
        "digoxin poisoning found no harm.",
        sources=(GLUCONATE_LABEL, STONE_HEART),
        levels=("warning", "info"),
        for_patient=calcium_with_digoxin,
    ),
)
