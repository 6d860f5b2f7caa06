"""Doses that must not go through the lumen of a drug whose surge harms, whatever the chemistry.

The line's dead space holds minutes of the drug: a dose pushes them in, and then none comes. The
same limits as the review's rule `line-vasoactive-with-bolus`.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from app.cautions.phrases import infusion_name
from app.cautions.shared.substances import Infusion, holds
from app.cautions.shared.veins import hours_to_run
from app.patient.order import CoInfusion, Order
from app.review.pairs.apart import Apart

MINUTES_PER_HOUR: Final = 60.0
DOSE_MIN: Final = 60.0
# With insulin and sedation a surge harms less.
DOSE_LESS_MIN: Final = 30.0
LESS: Final = ("insulin", "sedative", "propofol", "vasodilator", "opioid")
SURGE: Final = "a dose pushes a surge of"
Timed = tuple[str, Infusion, int | None]


def surges(all_of: Iterable[Timed], told: Iterable[Apart]) -> Iterator[Apart]:
    """Of things by id, with how long one run of each takes (None: all the time), every two that
    the chemistry lets share a lumen and a surge does not. told: what is kept apart already.
    """
    things, known = tuple(all_of), {frozenset(pair[:2]) for pair in told}
    for drug_id, drug, drug_min in things:
        longest = _longest_min(drug) if drug_min is None else 0.0
        for dose_id, dose, dose_min in things:
            apart = dose_min is not None and frozenset((drug_id, dose_id)) not in known
            if apart and not _is_its_bag(dose, drug) and _pushes(dose, dose_min or 0, longest):
                first, second = sorted((drug_id, dose_id))
                why = f"{SURGE} {_name(drug)} ahead of it, then none"
                yield Apart(first, second, "lumen", why)


def surge_harms(drug: Infusion) -> bool:
    """True for a drug of which what stands in the line must not be pushed in at once."""
    return _longest_min(drug) > 0


def _name(drug: Infusion) -> str:
    return infusion_name(drug) if isinstance(drug, CoInfusion) else drug.called


def _longest_min(drug: Infusion) -> float:
    """The longest run that counts as a dose on the lumen of this drug; 0 where none harms."""
    if not isinstance(drug, CoInfusion):
        return 0.0
    if holds(drug, "vasoactive"):
        return DOSE_MIN
    return DOSE_LESS_MIN if holds(drug, *LESS) else 0.0


def _is_its_bag(dose: Infusion, drug: Infusion) -> bool:
    return isinstance(dose, Order) and isinstance(drug, CoInfusion) and drug.carried_by == dose.id


def _pushes(dose: Infusion, minutes: int, longest_min: float) -> bool:
    """A bolus, or a bag or dose that runs no longer than that; what is left of a bag is none."""
    if not longest_min:
        return False
    if isinstance(dose, CoInfusion):
        return minutes <= longest_min
    if dose.is_bolus or dose.purpose == "resuscitation":
        return True
    if dose.purpose in ("carrier", "maintenance"):
        return False
    hours = hours_to_run(dose)
    return bool(hours) and (hours or 0) * MINUTES_PER_HOUR <= longest_min
