"""How a patient's fluid runs together: what is given fast, what goes on, what a record says."""

from collections.abc import Iterable
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.shared.fluid_facts import HOURS_PER_DAY, litres_within
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

# Blood or other volume lost, or lacking: fluid is then the treatment.
VOLUME_LOST: Final = (
    "haemorrhage", "massive_transfusion", "burns", "major_burns", "hypovolaemia", "dehydration",
    "shock", "septic_shock", "anaphylaxis", "cardiac_arrest", "diabetic_ketoacidosis",
    "hyperosmolar_state", "rhabdomyolysis", "tumour_lysis", "diarrhoea", "adrenal_crisis",
)  # fmt: skip
SPEECH: Final = {"siadh": "SIADH", "aki": "AKI"}


def recorded(patient: Snapshot, keys: Iterable[str]) -> tuple[str, ...]:
    """Which of these conditions are recorded, as people say them, in the order asked."""
    found = (key for key in keys if key in patient.conditions)
    return tuple(SPEECH.get(key, key.replace("_", " ")) for key in found)


def is_written(patient: Snapshot, key: str, *parts: str) -> bool:
    """True when the words in which a condition was recorded hold any of these."""
    text = patient.conditions.detail.get(key, "").lower()
    return any(part in text for part in parts)


def lacks_volume(patient: Snapshot) -> bool:
    """Volume is lost or lacking; a failing heart in shock lacks none."""
    if "cardiogenic_shock" in patient.conditions:
        return False
    return patient.conditions.any_of(*VOLUME_LOST)


def is_fast(order: Order) -> bool:
    """A bolus, or given for resuscitation."""
    return order.is_bolus or order.purpose == "resuscitation"


def whole_volume_ml(order: Order) -> float | None:
    """The volume ordered in all, mL: as written, or rate by duration; None with neither."""
    if order.volume_ml is not None:
        return order.volume_ml
    if order.rate_ml_h is None or order.duration_h is None:
        return None
    return order.rate_ml_h * order.duration_h


def day_ml(order: Order) -> float | None:
    """What the order gives in the next 24 h, mL; None with neither rate nor volume."""
    litres = litres_within(order, HOURS_PER_DAY)
    return None if litres is None else litres * ML_PER_L


def running_ml_h(case: Case) -> float:
    """All orders that have a rate, together, mL/h; without what is over or starts in its turn."""
    return sum(order.rate_ml_h or 0.0 for order in case.orders if not _waits(order, case))


def _waits(order: Order, case: Case) -> bool:
    later = order.starts_at is not None and order.starts_at > case.now
    return order.is_over or (order.follows and later)


def carrier_day_ml(other: CoInfusion) -> float | None:
    """What a drug's own carrier gives in 24 h, mL: its volume at each dose, or else its rate."""
    return other.day_ml
