"""How long each infusion may stand still within a shift, and why some never do. Pure."""

from dataclasses import dataclass
from typing import Final

from app.cautions.shared.substances import Infusion, holds, infusions_of
from app.lines.model import Role
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.review.lines.bedside.settings import (
    BAG_HELD_MIN,
    FLUID_PAUSE_MIN,
    POTASSIUM_PAUSE_MIN,
)

# From here on potassium was put into the bag on purpose.
ADDED_POTASSIUM_MMOL_L: Final = 6.0
NUTRITION: Final = "parenteral_nutrition"
DRUG: Final = "a drug that runs all the time is not interrupted unless the prescriber says so"
DRUG_IN_BAG: Final = "the drug in the bag is not interrupted unless the prescriber says so"
CORRECTION: Final = "a correction is not interrupted"
# Of these the prescriber may be asked.
MAY_BE_ASKED: Final = frozenset({DRUG, DRUG_IN_BAG, CORRECTION})


@dataclass(frozen=True, slots=True)
class Pause:
    """most_min: for how long in all; 0 is never, and why says why. must_run: nobody is even asked
    whether it may stop, be put off or be left out for want of a lumen.
    """

    most_min: int
    why: str = ""
    must_run: bool = False


def role_of(infusion: Infusion) -> Role:
    """Which reserved lumen it may use."""
    if holds(infusion, NUTRITION) or getattr(infusion, "kind", "") == "nutrition":
        return "nutrition"
    return "vasoactive" if holds(infusion, "vasoactive") else ""


def pause_of(infusion: Infusion, case: Case) -> Pause:
    """How long it may stand still."""
    never = _never(infusion, case)
    if never:
        return Pause(0, never, must_run=never not in MAY_BE_ASKED)
    mix = infusion.mix if isinstance(infusion, Order) else None
    if mix is not None and mix.potassium_mmol_l > ADDED_POTASSIUM_MMOL_L:
        return Pause(POTASSIUM_PAUSE_MIN)
    return Pause(FLUID_PAUSE_MIN)


def held_min(order: Order, case: Case) -> int:
    """For how long a bag that ends within the plan may be held."""
    return min(BAG_HELD_MIN, pause_of(order, case).most_min)


def _never(infusion: Infusion, case: Case) -> str:
    role = role_of(infusion)
    if role == "nutrition":
        return "nutrition is not interrupted"
    if role == "vasoactive":
        return "a vasoactive drug is never interrupted"
    if holds(infusion, "insulin"):
        return "insulin is not interrupted"
    if isinstance(infusion, CoInfusion):
        return DRUG
    return _never_fluid(infusion, case)


def _never_fluid(order: Order, case: Case) -> str:
    if order.is_bolus or order.purpose == "resuscitation":
        return "resuscitation is not interrupted"
    if order.purpose == "correction":
        return CORRECTION
    if order.carries_a_drug:
        return DRUG_IN_BAG
    if order.mix is None or not order.mix.glucose_g_l:
        return ""
    if any(holds(other, "insulin") for other in infusions_of(case)):
        return "glucose is not interrupted while insulin runs"
    if "hypoglycaemia" in case.patient.conditions.found:
        return "glucose is not interrupted after a low glucose"
    return "glucose is not interrupted in a newborn" if _is_newborn(case) else ""


def _is_newborn(case: Case) -> bool:
    try:
        return case.patient.is_neonate()
    except NotKnown:
        return False
