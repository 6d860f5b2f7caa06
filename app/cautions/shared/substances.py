"""What runs, as the facts about pairs name it, and which of it meets in one lumen."""

import re
from itertools import combinations
from typing import Final

from app.catalogue.pairs.substance import (
    Kind,
    Substance,
    bag_of,
    drug_substance,
    fluid_substance,
    made_up_in,
    marks_of,
    names_of,
)
from app.cautions.phrases import bag_name, infusion_name
from app.cautions.shared.veins import SHORT_H, hours_to_run
from app.patient.case import Case
from app.patient.once import once_each
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.sharing import Sharing, sharing

Infusion = Order | CoInfusion
# Drugs of these are only ever given as an infusion; the others only where the words say so.
ALWAYS_RUN: Final = (
    "norepinephrine", "vasopressin", "dopamine", "dobutamine", "milrinone", "levosimendan",
    "nitroprusside", "dexmedetomidine", "nicardipine", "clevidipine", "isoprenaline",
)  # fmt: skip
RUNS: Final = re.compile(r"/\s*(?:h|hr|hour|min)\b|infus|running|continuous|vriii|friii|pump")
# A dose of an antibiotic may take four hours; what takes longer is an infusion.
LONGEST_DOSE_MIN: Final = 240.0
PUSHED: Final = re.compile(r"\bbolus|\bpush|\bstat\b|\barrest|\bprn\b|single dose|loading")


def infusions_of(case: Case) -> tuple[Infusion, ...]:
    """Everything that runs by itself: orders, then what is beside them."""
    return (*case.orders, *(other for other in case.co_infusions if not other.carried_by))


@once_each
def substance_of(infusion: Infusion) -> Substance:
    """How facts name an infusion: its fluid and what is in it, or the drug."""
    if isinstance(infusion, CoInfusion):
        return _of_other(infusion)
    added = tuple(map(_of_additive, infusion.additives))
    if infusion.fluid is not None:
        return bag_of(fluid_substance(infusion.fluid), added)
    names = frozenset(part.key for part in added)
    return Substance(names, marks_of(infusion.mix), "any fluid", parts=added)


def _of_additive(dose: AdditiveDose) -> Substance:
    return drug_substance(dose.substance, marks_of(dose.added))


def _of_other(other: CoInfusion) -> Substance:
    if other.diluent is not None and other.key in (*names_of(other.diluent.id), "sodium_chloride"):
        return fluid_substance(other.diluent)
    kind: Kind = "any drug" if other.kind == "drug" else "any fluid"
    drug = drug_substance(other.key, other.contents, kind)
    return drug if other.diluent is None else made_up_in(drug, fluid_substance(other.diluent))


def way_between(case: Case, one: Infusion, other: Infusion) -> Sharing:
    """How two infusions stand to each other, two orders included."""
    if isinstance(other, CoInfusion):
        return sharing(case, one, other)
    if isinstance(one, CoInfusion):
        return sharing(case, other, one)
    if one.lumen is not None and other.lumen is not None:
        return "together" if one.lumen == other.lumen else "apart"
    return "one lumen" if len(case.patient.access) == 1 else "not known"


def pairs_of(case: Case) -> tuple[tuple[Infusion, Infusion], ...]:
    """Every two things that run by themselves."""
    return tuple(combinations(infusions_of(case), 2))


def name_of(infusion: Infusion) -> str:
    """By its plain name."""
    return bag_name(infusion) if isinstance(infusion, Order) else infusion_name(infusion)


def order_ids_of(*infusions: Infusion) -> tuple[str, ...]:
    """The ids of those that are orders."""
    return tuple(each.id for each in infusions if isinstance(each, Order))


def holds(infusion: Infusion, *keys: str) -> bool:
    """True when a drug, or what an order carries, has one of these as name or mark."""
    substance = substance_of(infusion)
    return not substance.names.isdisjoint(keys) or not substance.marks.isdisjoint(keys)


def is_dose(infusion: Infusion) -> bool:
    """True for a drug given as a dose or a push, or a bag within the hour: two doses are given one
    after the other.
    """
    if isinstance(infusion, Order):
        hours = hours_to_run(infusion)
        return infusion.is_bolus or (hours is not None and 0 < hours <= SHORT_H)
    return infusion.kind == "drug" and not runs_on(infusion)


def runs_on(drug: CoInfusion) -> bool:
    """True for a drug given as an infusion, not as a push or a dose."""
    words = drug.name.lower()
    if PUSHED.search(words):
        return False
    if drug.carried_by or drug.rate_ml_h is not None or drug.key in ALWAYS_RUN:
        return True
    if drug.duration_min is not None:
        return drug.duration_min > LONGEST_DOSE_MIN
    return bool(RUNS.search(words))
