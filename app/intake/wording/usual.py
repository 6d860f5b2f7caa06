"""Amounts that custom alone says how to take: potassium written beside a bag's name."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from app.catalogue.fluid import Fluid
from app.intake.recipe import KCL
from app.intake.wording.made_up import Doses
from app.intake.wording.parts import DoseWords

ONE_LITRE_ML: Final = 1000.0
KCL_MMOL_L_PER_PERCENT: Final = 10_000 / 74.55
OWN_ION: Final[Mapping[str, str]] = {
    KCL: "potassium_mmol_l", "sodium_chloride": "sodium_mmol_l",
    "calcium_chloride": "calcium_mmol_l",
}  # fmt: skip
SAME_WITHIN: Final = 0.1
COUNTED: Final = ("mmol", "mEq", "")
# "NS + 20 KCl at 100 mL/h" names the bag: so much in each litre (common practice, no source).
UNSAID: Final = "No volume is written: the amount is taken as that in each litre. Is it?"
IN_EACH_LITRE: Final[Mapping[str, tuple[float, float]]] = {
    KCL: (10.0, 60.0),
    "sodium_bicarbonate": (25.0, 200.0),
}


def per_litre_unsaid(doses: Doses) -> Doses:
    """The doses of a bag whose volume nobody says, as amounts in each litre where that is usual."""
    return tuple(_per_litre(dose) for dose in doses)


def _per_litre(dose: DoseWords) -> DoseWords:
    quantity, usual = dose.quantity, IN_EACH_LITRE.get(dose.key)
    if quantity is None or usual is None or quantity.unit not in COUNTED or quantity.by_day:
        return dose
    if quantity.by_kg or not usual[0] <= quantity.number <= usual[1]:
        return dose
    return replace(dose, quantity=replace(quantity, per_litre=True))


def not_its_own(doses: Doses, fluid: Fluid) -> Doses:
    """The doses without what only tells what the fluid holds: "Hartmann's (K 5 mmol/L)"."""
    return tuple(dose for dose in doses if not _is_its_own(dose, fluid))


def _is_its_own(dose: DoseWords, fluid: Fluid) -> bool:
    quantity, ion = dose.quantity, OWN_ION.get(dose.key)
    if quantity is None or ion is None or not quantity.per_litre or quantity.unit not in COUNTED:
        return False
    held = float(getattr(fluid.composition, ion) or 0)
    return held > 0 and abs(quantity.number - held) <= SAME_WITHIN * held


def per_litre_of(dose: DoseWords, volume_ml: float | None) -> float | None:
    """Potassium chloride in each litre of a bag as it is made, mmol; None where it is not said."""
    quantity = dose.quantity
    if quantity is None:
        percent = dose.percent
        return None if percent is None else float(round(percent * KCL_MMOL_L_PER_PERCENT))
    if quantity.unit not in COUNTED or quantity.by_day or quantity.by_kg:
        return None
    if quantity.per_litre:
        return quantity.number
    return quantity.number if volume_ml == ONE_LITRE_ML else None
