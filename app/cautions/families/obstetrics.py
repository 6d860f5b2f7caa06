"""Labour and pre-eclampsia: water with oxytocin, and volume that the lungs do not take."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.flow import carrier_day_ml, day_ml, is_fast, recorded, whole_volume_ml
from app.cautions.shared.fluid_facts import is_hypotonic, on_drug, water_is_treatment
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

OXYTOCIN_TEXT: Final = Source("UK summary of product characteristics, oxytocin", "4.4", seen=False)
LABOUR: Final = Source("RCM and hospital guidance on sodium in labour", "", seen=False)
PRE_ECLAMPSIA: Final = Source("NICE NG133, Hypertension in pregnancy, 2019", "1.8", seen=False)
CHILDBIRTH: Final = ("pregnancy", "labour", "haemorrhage", "postoperative")
VOLUME_FIRST: Final = (
    "haemorrhage", "massive_transfusion", "shock", "sepsis", "septic_shock", "hypovolaemia",
    "dehydration", "diabetic_ketoacidosis",
)  # fmt: skip


def water_with_oxytocin(case: Case, limits: Limits) -> Iterator[Finding]:
    """Hypotonic fluid while oxytocin holds water back: its own carrier, and every other order."""
    patient = case.patient
    if not on_drug(case, "oxytocin") or water_is_treatment(patient):
        return
    orders = [order for order in case.orders if order.mix and is_hypotonic(order.mix)]
    carriers = [other for other in case.co_infusions if _carries_water(other)]
    if not orders and not carriers:
        return
    volume = sum(_order_ml(order) for order in orders)
    volume += sum(carrier_day_ml(carrier) or 0.0 for carrier in carriers)
    level = _oxytocin_level(patient, volume, limits)
    if level is None:
        if any(carrier_day_ml(carrier) is None for carrier in carriers):
            raise NotKnown("volume_ml", "missing", "the volume of oxytocin's carrier")
        return
    yield Finding(
        level,
        f"Oxytocin with {number(volume)} mL of hypotonic fluid in 24 h: the water is kept.",
        f"Hypotonic fluid, oxytocin's carrier counted, {number(volume)} mL in 24 h; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"hypotonic_ml_day": volume},
        limits=("much_ml_day", "some_ml_day", "sodium_low_mmol_l"),
        order_ids=tuple(order.id for order in orders),
    )


def _carries_water(other: CoInfusion) -> bool:
    if other.key != "oxytocin" or other.carried_by or other.diluent is None:
        return False
    mix: Composition = other.diluent.composition
    return is_hypotonic(mix)


def _order_ml(order: Order) -> float:
    volume = day_ml(order)
    if volume is None:
        raise NotKnown("rate_ml_h", "missing", f"the rate of “{order.written}” is not told")
    return volume


def _oxytocin_level(patient: Snapshot, volume_ml: float, limits: Limits) -> Level | None:
    if volume_ml <= limits["some_ml_day"]:
        return None
    sodium = patient.value_or_none("sodium")
    low = sodium is not None and sodium < limits["sodium_low_mmol_l"]
    mother = patient.sex == "female" or patient.conditions.any_of(*CHILDBIRTH)
    return "critical" if low or (mother and volume_ml >= limits["much_ml_day"]) else "warning"


def volume_in_pre_eclampsia(case: Case, limits: Limits) -> Iterator[Finding]:
    """More than is let in during pre-eclampsia, whose lungs fill easily."""
    patient = case.patient
    if not recorded(patient, ("pre_eclampsia",)) or patient.setting == "theatre":
        return
    if patient.conditions.any_of(*VOLUME_FIRST):
        return
    yield from _boluses(case, limits)
    goes_on = [order for order in case.orders if not is_fast(order)]
    rate = sum(order.rate_ml_h or 0.0 for order in goes_on)
    rate += sum(other.rate_ml_h or 0.0 for other in case.co_infusions if not other.carried_by)
    volume = sum(day_ml(order) or 0.0 for order in goes_on)
    lungs = "pulmonary_oedema" in patient.conditions
    if rate <= limits["rate_ml_h"] or volume <= limits["small_ml"]:
        if any(order.rate_ml_h is None and order.volume_ml is None for order in goes_on):
            raise NotKnown("rate_ml_h", "missing", "the rate of an order is not told")
        return
    yield Finding(
        "critical" if lungs else "warning",
        f"Pre-eclampsia{' and pulmonary oedema' if lungs else ''}: {number(rate)} mL/h in all, "
        "80 mL/h is meant.",
        f"All orders and drugs together {number(rate)} mL/h ({number(rate * 24 / ML_PER_L)} L a "
        "day); no bleeding or other loss is recorded.",
        figures={"rate_ml_h": rate},
        limits=("rate_ml_h", "small_ml"),
        order_ids=tuple(order.id for order in goes_on),
    )


def _boluses(case: Case, limits: Limits) -> Iterator[Finding]:
    name = "bolus_hydralazine_ml" if on_drug(case, "hydralazine") else "bolus_ml"
    for order in case.orders:
        volume = whole_volume_ml(order) or 0.0
        if is_fast(order) and volume > limits[name]:
            yield _bolus(order, volume, name, case.patient)


def _bolus(order: Order, volume: float, limit: str, patient: Snapshot) -> Finding:
    lungs = "pulmonary_oedema" in patient.conditions
    return Finding(
        "critical" if lungs else "warning",
        f"Pre-eclampsia and a bolus of {number(volume)} mL with nothing lost.",
        f"Bolus {number(volume)} mL; no bleeding or other loss is recorded.",
        figures={"bolus_ml": volume},
        limits=(limit,),
        order_ids=(order.id,),
    )


RULES: Final = (
    Rule(
        id="preg-oxytocin",
        title="Hypotonic fluid with oxytocin",
        trigger="Oxytocin and hypotonic fluid, its own carrier counted: 500 mL or more in 24 h is "
        "critical in pregnancy, labour or after birth, over 300 mL a warning (critical with sodium "
        "under 130 mmol/L).",
        unless="oxytocin runs in a small volume, or sodium is high",
        do="Use 0.9% sodium chloride or a balanced fluid as carrier, in a small volume; sodium "
        "where over 2.5 L has gone in.",
        evidence="Oxytocin acts like vasopressin at high doses; seizures in mother and child were "
        "reported with litres of glucose water.",
        sources=(OXYTOCIN_TEXT, LABOUR),
        needs=("rate_ml_h", "volume_ml"),
        limits=(
            Limit("much_ml_day", 500, "mL/24 h", "hypotonic fluid that can cause fits", PRACTICE),
            Limit("some_ml_day", 300, "mL/24 h", "hypotonic fluid that is a carrier", PRACTICE),
            Limit("sodium_low_mmol_l", 130, "mmol/L", "sodium that is low"),
        ),
        levels=("critical", "warning"),
        for_patient=water_with_oxytocin,
    ),
    Rule(
        id="preg-volume",
        title="Fluid in pre-eclampsia",
        trigger="Pre-eclampsia or eclampsia with over 100 mL/h in all (for over 500 mL), or a "
        "bolus over 300 mL (500 with hydralazine): warning, critical with pulmonary oedema.",
        unless="bleeding, sepsis, shock or another loss; in theatre",
        do="Limit all fluid to 80 mL/h, drugs counted, unless something is lost.",
        evidence="Leaky vessels: pulmonary oedema killed more often than dry kidneys.",
        sources=(PRE_ECLAMPSIA, PRACTICE),
        needs=("rate_ml_h",),
        limits=(
            Limit("rate_ml_h", 100, "mL/h", "rate that is clearly above the aim", PRACTICE),
            Limit("small_ml", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
            Limit("bolus_ml", 300, "mL", "one bolus", PRACTICE),
            Limit("bolus_hydralazine_ml", 500, "mL", "one bolus before hydralazine"),
        ),
        levels=("critical", "warning"),
        for_patient=volume_in_pre_eclampsia,
    ),
)
