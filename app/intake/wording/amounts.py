"""A dose's amount in mmol of its salt, and what stands in the way."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.errors import UnitError
from app.chemistry.salts import salt_mmol_from_g
from app.chemistry.units import salt_mmol_from_meq
from app.intake.orders.quantities import Quantity
from app.intake.wording.parts import DoseWords

# 15% potassium chloride is called 2 mmol/mL, and is 2.01.
SAME_STRENGTH_WITHIN: Final = 0.1
NEEDS_RATE: Final = "an amount a day is spread by the rate (and the weight), which is not known"
MG_PER_G: Final = 1000.0
G_PER_ML_PER_PERCENT: Final = 0.01
# A factory-made bag holds at most 0.3% potassium chloride; above this a percent is an ampoule's
# strength, whose volume must be said.
BAG_PERCENT_UP_TO: Final = 1.0
# Salts whose amount is so usually in mmol that people leave the unit out.
UNIT_UNSAID: Final = ("potassium_chloride", "sodium_bicarbonate", "sodium_chloride")
LEAST_MMOL: Final = 1.0
NO_AMOUNT: Final = "no amount is written"


def mmol_of(salt_key: str, dose: DoseWords) -> float | None:
    """Mmol of the salt; None when the words do not say. Raises UnitError (mEq of phosphate)."""
    quantity = dose.quantity
    if quantity is not None and (quantity.by_day or quantity.by_kg):
        return None
    if quantity is not None and quantity.unit == "mL" and dose.mmol_ml is not None:
        return quantity.number * dose.mmol_ml
    if quantity is None and dose.mmol_ml is not None:
        return None
    if quantity is None:
        return _mmol_l_of_percent(salt_key, dose.percent)
    if quantity.unit == "mmol" or (not quantity.unit and salt_key in UNIT_UNSAID):
        return quantity.number
    if quantity.unit == "mEq":
        return salt_mmol_from_meq(salt_key, quantity.number)
    grams = _grams(quantity, dose.percent)
    return None if grams is None else salt_mmol_from_g(salt_key, grams)


def _mmol_l_of_percent(salt_key: str, percent: float | None) -> float | None:
    """Mmol in each litre of a bag labelled in percent; None for an ampoule's strength."""
    if percent is None or percent > BAG_PERCENT_UP_TO:
        return None
    return salt_mmol_from_g(salt_key, percent * G_PER_ML_PER_PERCENT * ML_PER_L)


def _grams(quantity: Quantity, percent: float | None) -> float | None:
    if quantity.unit == "g":
        return quantity.number
    if quantity.unit == "mg":
        return quantity.number / MG_PER_G
    if quantity.unit == "mL" and percent is not None:
        return quantity.number * percent * G_PER_ML_PER_PERCENT
    return None


def with_only_strength(dose: DoseWords, entry: Mapping[str, Any]) -> DoseWords:
    """The dose with the only strength it is made in, where its mL are written without one."""
    is_ml = dose.quantity is not None and dose.quantity.unit == "mL"
    unsaid = is_ml and dose.percent is None and dose.mmol_ml is None
    only = entry.get("only_percent")
    return replace(dose, percent=float(only)) if unsaid and only else dose


def doubt_of(salt_key: str, dose: DoseWords, mmol: float) -> str:
    """What makes a dose that can be counted one to be asked about; empty when nothing does."""
    return _disagreement(salt_key, dose, mmol) or _too_little(salt_key, dose, mmol)


def _disagreement(salt_key: str, dose: DoseWords, mmol: float) -> str:
    """What two figures of one dose say differently; empty where they agree.

    A percent beside mmol/mL, or an amount said twice ("2 g (8 mmol)").
    """
    if dose.percent is not None and dose.mmol_ml is not None:
        by_percent = salt_mmol_from_g(salt_key, dose.percent * G_PER_ML_PER_PERCENT)
        if abs(by_percent - dose.mmol_ml) > SAME_STRENGTH_WITHIN * by_percent:
            return f"{dose.percent:g}% and {dose.mmol_ml:g} mmol in each mL do not agree"
    also = dose.also
    if also is None or also.per_litre or also.by_day or also.by_kg or also.in_each:
        return ""
    try:
        again = mmol_of(salt_key, DoseWords(dose.key, also, None, dose.as_written))
    except UnitError:
        return ""
    if again is None or abs(again - mmol) <= SAME_STRENGTH_WITHIN * mmol:
        return ""
    return f"{dose.as_written} and {also.number:g} {also.unit} do not agree"


def _too_little(salt_key: str, dose: DoseWords, mmol: float) -> str:
    """Milligrams written where mmol were surely meant: 20 mg of potassium chloride is nothing."""
    in_mg = dose.quantity is not None and dose.quantity.unit == "mg"
    if not in_mg or salt_key not in UNIT_UNSAID or mmol >= LEAST_MMOL:
        return ""
    return f"{dose.as_written} is only {mmol:.1f} mmol: are mmol meant?"


def what_lacks(dose: DoseWords) -> str:
    """Why an amount cannot be counted in mmol."""
    if dose.quantity is not None and dose.quantity.by_day:
        return NEEDS_RATE
    if dose.quantity is not None and dose.quantity.by_kg:
        return "an amount for each kg needs the weight, which is not known"
    if dose.quantity is None:
        return NO_AMOUNT
    if dose.quantity.unit == "mL":
        return "the strength (in percent, or mmol in each mL) is not written"
    if dose.quantity.unit == "ampoule":
        return "how much is in one ampoule, in mmol or g, is not written"
    if not dose.quantity.unit:
        return "no unit is written"
    return f"the unit {dose.quantity.unit} is not read; mmol, mEq, g, mg, or mL of a strength"
