"""Glucose given against what a body can burn."""

from typing import Final

MINUTES_PER_HOUR: Final = 60.0


def glucose_mg_kg_min(*, rate_ml_h: float, glucose_g_l: float, weight_kg: float) -> float:
    """Glucose infusion rate, mg/kg/min, from mL/h and g/L (g/L and mg/mL are the same number).

    Give anhydrous grams for what is burnt; a label in monohydrate reads 10% higher.
    """
    return rate_ml_h * glucose_g_l / (MINUTES_PER_HOUR * weight_kg)
