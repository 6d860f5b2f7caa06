"""What an infusion does to plasma sodium, what is missing when it is not normal, osmolality."""

from typing import Final

from app.chemistry.water import EDELMAN_INTERCEPT_MMOL_L, EDELMAN_SLOPE

NORMAL_SODIUM_MMOL_L: Final = 140.0
# Glucose above this is counted, in steps of this size: 100 mg/dL.
GLUCOSE_STEP_MMOL_L: Final = 5.55
KATZ_MMOL_L_PER_STEP: Final = 1.6
HILLIER_MMOL_L_PER_STEP: Final = 2.4


def sodium_change_mmol_l(
    *, infusate_mmol_l: float, volume_l: float, sodium_mmol_l: float, body_water_l: float
) -> float:
    """Expected change of plasma sodium by any volume of a fluid, mmol/L.

    infusate_mmol_l: the fluid's sodium plus potassium. Adrogue and Madias, NEJM 2000;342:1493
    and 1581 (from memory), exact for any volume: never scale the one-litre answer. Ignores
    urine, other losses and glucose shifts; measured correction often exceeds it.
    """
    return volume_l * (infusate_mmol_l - sodium_mmol_l) / (body_water_l + volume_l)


def volume_for_change_l(
    *, infusate_mmol_l: float, change_mmol_l: float, sodium_mmol_l: float, body_water_l: float
) -> float:
    """Volume that would change plasma sodium by so much, L: the inverse of sodium_change_mmol_l.

    Raises ValueError when no volume of this fluid could.
    """
    pull = infusate_mmol_l - sodium_mmol_l - change_mmol_l
    if not pull or change_mmol_l / pull < 0:
        raise ValueError("no volume of this fluid brings that change")
    return change_mmol_l * body_water_l / pull


def sodium_after_balance_mmol_l(
    *, sodium_mmol_l: float, body_water_l: float, salt_gain_mmol: float, water_gain_l: float
) -> float:
    """Plasma sodium after a net gain of sodium plus potassium (mmol) and water (L), mmol/L.

    Nguyen and Kurtz 2003. Gains are in minus out, urine included; losses are negative.
    """
    exchangeable = (
        sodium_mmol_l + EDELMAN_INTERCEPT_MMOL_L
    ) * body_water_l + EDELMAN_SLOPE * salt_gain_mmol
    return exchangeable / (body_water_l + water_gain_l) - EDELMAN_INTERCEPT_MMOL_L


def exchangeable_per_litre_mmol_l(sodium_mmol_l: float) -> float:
    """Exchangeable sodium plus potassium per litre of body water, mmol/L, behind a sodium."""
    return (sodium_mmol_l + EDELMAN_INTERCEPT_MMOL_L) / EDELMAN_SLOPE


def sodium_deficit_mmol(
    *, sodium_mmol_l: float, target_mmol_l: float, body_water_l: float
) -> float:
    """Sodium that would bring plasma sodium to a target, mmol (textbook; no ongoing loss)."""
    return body_water_l * (target_mmol_l - sodium_mmol_l)


def free_water_deficit_l(
    *, sodium_mmol_l: float, body_water_l: float, target_mmol_l: float = NORMAL_SODIUM_MMOL_L
) -> float:
    """Water that would bring a high sodium to the target, L (textbook; no ongoing loss)."""
    return body_water_l * (sodium_mmol_l / target_mmol_l - 1)


def sodium_for_glucose_mmol_l(
    sodium_mmol_l: float, glucose_mmol_l: float, per_step_mmol_l: float = KATZ_MMOL_L_PER_STEP
) -> float:
    """Sodium as it would be were glucose normal, mmol/L.

    Katz, NEJM 1973;289:843 (1.6 a step); Hillier, Am J Med 1999;106:399 (2.4 a step), from
    memory. Show both. Never used for osmolality. Unchanged where glucose is not high.
    """
    steps = max(0.0, glucose_mmol_l - GLUCOSE_STEP_MMOL_L) / GLUCOSE_STEP_MMOL_L
    return sodium_mmol_l + per_step_mmol_l * steps


def sodium_change_of_balance_mmol_l(
    *, salt_gain_mmol: float, water_gain_l: float, sodium_mmol_l: float, body_water_l: float
) -> float:
    """Expected change by several fluids and losses together, mmol/L.

    salt_gain_mmol: sodium plus potassium in minus out. water_gain_l: water in minus out. The
    exact-volume form of Adrogue and Madias for a sum: with one fluid it is sodium_change_mmol_l.
    """
    return (salt_gain_mmol - sodium_mmol_l * water_gain_l) / (body_water_l + water_gain_l)


def plasma_osmolality_mosm_kg(
    *, sodium_mmol_l: float, glucose_mmol_l: float, urea_mmol_l: float = 0.0
) -> float:
    """Osmolality as it is calculated, mosm/kg: twice sodium, glucose and urea, all mmol/L.

    Without urea it is the part that moves water. Alcohols, mannitol and contrast are not in it.
    """
    return 2 * sodium_mmol_l + glucose_mmol_l + urea_mmol_l
