"""Facts the fluid families share: how much runs, whether it is small, how sodium has moved."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import HYPOTONIC_BELOW_MOSM_L, ML_PER_L
from app.chemistry.composition import Composition
from app.patient.case import Case, Situation
from app.patient.known import NotKnown, known
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.physiology.compartments import total_body_water_l
from app.physiology.sodium import sodium_for_glucose_mmol_l

HOURS_PER_DAY: Final = 24.0
SECONDS_PER_HOUR: Final = 3600.0
HYPERTONIC_SODIUM_MMOL_L: Final = 200.0
# Below this sum of sodium and potassium a fluid brings free water (common practice).
HYPOTONIC_SALT_MMOL_L: Final = 130.0
CHILD_SMALL_ML_KG_DAY: Final = 10.0
# Few adults weigh less (common practice, no source).
LIGHT_ADULT_KG: Final = 40.0
# Places that take patients of every age.
EVERY_AGE: Final = ("ICU", "ED", "theatre")
CARRIER_SHARE: Final = 1.5
HIGH_SODIUM_MMOL_L: Final = 145.0
# Glucose from which it visibly lowers sodium, mmol/L (common practice).
GLUCOSE_HIDES_SODIUM_MMOL_L: Final = 15.0
# A rise in a day that makes free water a treatment (Verbalis, Am J Med 2013;126:S1, memory).
OVERSHOOT_MMOL_L: Final = 8.0
RELOWERING_WORDS: Final = ("relower", "re-lower", "overcorrect", "over-correct", "overshoot")


@dataclass(frozen=True, slots=True)
class SodiumPoint:
    """One usable sodium: how long ago, h, and mmol/L."""

    hours_ago: float
    sodium_mmol_l: float


def litres_within(order: Order, hours: float) -> float | None:
    """Litres this order gives in the next `hours`; None with neither rate nor volume.

    A bag runs on and is renewed unless it is given once.
    """
    return order.litres_within(hours)


def litres_a_day(order: Order) -> float:
    """Litres in 24 h; NotKnown("rate_ml_h") with neither rate nor volume."""
    return known(litres_within(order, HOURS_PER_DAY), "rate_ml_h")


def is_small(order: Order, patient: Snapshot, small_ml: float) -> bool:
    """True for a carrier's volume: at most small_ml a day, or 10 mL/kg a day in a child.

    What is ordered as a carrier may be half as much again: 30 mL/h, and no more. False where the
    volume, or a child's weight, is not known.
    """
    litres = litres_within(order, HOURS_PER_DAY)
    if litres is None:
        return False
    if order.purpose == "carrier":
        small_ml *= CARRIER_SHARE
    if not child(patient):
        return litres * ML_PER_L <= small_ml
    if patient.weight_kg is None:
        return False
    most_ml = min(small_ml, CHILD_SMALL_ML_KG_DAY * patient.weight_kg)
    return litres * ML_PER_L <= most_ml


def child(patient: Snapshot) -> bool:
    """True for a known child; an unknown age is not taken for one."""
    try:
        return patient.is_child()
    except NotKnown:
        return False


def known_child(patient: Snapshot) -> bool:
    """True for a child; NotKnown("age_years") where a weight may be a child's and no age is told.

    For limits of children alone: an emergency department takes every age, and so may the rest.
    """
    light = patient.weight_kg is not None and patient.weight_kg < LIGHT_ADULT_KG
    if patient.age_years is None and patient.setting in EVERY_AGE and light:
        raise NotKnown("age_years", "missing", f"{patient.weight_kg:g} kg may be a child")
    return patient.is_child()


def newborn(patient: Snapshot) -> bool:
    """True for a known newborn; an unknown age is not taken for one."""
    try:
        return patient.is_neonate()
    except NotKnown:
        return False


def is_hypotonic(mix: Composition) -> bool:
    """Brings free water: sodium plus potassium under 130 mmol/L and tonicity under 260 mOsm/L."""
    tonicity = mix.tonicity_mosm_l
    if tonicity is None or mix.cation_salt_mmol_l >= HYPOTONIC_SALT_MMOL_L:
        return False
    return tonicity < HYPOTONIC_BELOW_MOSM_L


def mentions(order: Order, *parts: str) -> bool:
    """True when the order's own words hold any of these."""
    words = f"{order.written} {order.purpose_written} {order.text}".lower()
    return any(part in words for part in parts)


def on_drug(case: Case, *keys: str) -> bool:
    """True when any of these drugs or classes is among the medications or the infusions."""
    if case.patient.medications.any_of(*keys):
        return True
    return any(other.key in keys or other.contents & set(keys) for other in case.co_infusions)


def glucose_with_insulin(situation: Situation) -> bool:
    """Glucose beside insulin in ketoacidosis or a hyperosmolar state: the right choice."""
    emergency = situation.patient.conditions.any_of("diabetic_ketoacidosis", "hyperosmolar_state")
    return emergency and situation.mix.glucose_g_l > 0 and on_drug(situation.case, "insulin")


def sodium_points(patient: Snapshot, hours: float = HOURS_PER_DAY) -> tuple[SodiumPoint, ...]:
    """Usable sodium results of the last `hours`, newest first; NotKnown when there is none.

    The newest counts even without a time, as taken now.
    """
    newest = patient.value("sodium")
    points = [SodiumPoint(_hours_ago(patient, 0), newest)]
    for index, observation in enumerate(patient.results["sodium"][1:], start=1):
        age = _hours_ago(patient, index)
        if observation.value is not None and observation.taken_at and age <= hours:
            points.append(SodiumPoint(age, observation.value))
    return tuple(points)


def _hours_ago(patient: Snapshot, index: int) -> float:
    age = patient.results["sodium"][index].age(patient.now)
    return 0.0 if age is None else max(0.0, age.total_seconds() / SECONDS_PER_HOUR)


def risen_too_fast(patient: Snapshot) -> bool:
    """Sodium from under 130 has risen 8 mmol/L or more in the last day: water is treatment."""
    try:
        points = sodium_points(patient)
    except NotKnown:
        return False
    lowest = min(point.sodium_mmol_l for point in points)
    risen = points[0].sodium_mmol_l - lowest >= OVERSHOOT_MMOL_L
    return risen and lowest < HYPOTONIC_SALT_MMOL_L


def is_relowering(situation: Situation) -> bool:
    """Free water given on purpose after sodium rose too fast."""
    return risen_too_fast(situation.patient) or mentions(situation.order, *RELOWERING_WORDS)


def sodium_for_glucose(patient: Snapshot, sodium_mmol_l: float) -> float:
    """Sodium as it would be were glucose normal, mmol/L; unchanged where glucose is not high."""
    glucose = patient.value_or_none("glucose")
    if glucose is None or glucose < GLUCOSE_HIDES_SODIUM_MMOL_L:
        return sodium_mmol_l
    return sodium_for_glucose_mmol_l(sodium_mmol_l, glucose)


def water_is_treatment(patient: Snapshot) -> bool:
    """A high sodium, or diabetes insipidus: free water is then what is wanted."""
    if patient.conditions.any_of("hypernatraemia", "diabetes_insipidus"):
        return True
    sodium = patient.value_or_none("sodium")
    return sodium is not None and sodium > HIGH_SODIUM_MMOL_L


def body_water_l(patient: Snapshot) -> float:
    """Total body water, L; NotKnown without a weight."""
    return total_body_water_l(
        weight_kg=known(patient.weight_kg, "weight_kg"),
        age_years=patient.age_years,
        sex=patient.sex,
        height_cm=patient.height_cm,
    )
