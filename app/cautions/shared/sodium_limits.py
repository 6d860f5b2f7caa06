"""How far sodium may move in a day, in whom, and when it is measured again: one place for all."""

from collections.abc import Collection
from typing import Final

from app.cautions.phrases import number
from app.cautions.rule import Limits

RISK_CONDITIONS: Final = (
    "hypokalaemia", "alcohol_dependence", "malnutrition", "refeeding_risk", "liver_disease",
)  # fmt: skip
# Sodium then moves with glucose, and is judged by other rules.
GLUCOSE_EMERGENCY: Final = ("diabetic_ketoacidosis", "hyperosmolar_state")
# Salt taken within two days, and urine that runs away: no limit of a fall is meant for these.
NO_FALL_LIMIT: Final = ("acute_hypernatraemia", "diabetes_insipidus", *GLUCOSE_EMERGENCY)
ACUTE_LOW: Final = "acute_hyponatraemia"
GOAL: Final = "rise_goal_mmol_l_day"
LOWER: Final = "rise_mmol_l_day"
UPPER: Final = "rise_critical_mmol_l_day"


def rise_risks(
    conditions: Collection[str],
    potassium_mmol_l: float | None,
    lowest_mmol_l: float,
    limits: Limits,
) -> tuple[str, ...]:
    """What makes a fast rise more dangerous, as people say it; empty where nothing is known to.

    conditions: keys on record. limits: those of na-rise-forecast.
    """
    found = [key.replace("_", " ") for key in RISK_CONDITIONS if key in conditions]
    if potassium_mmol_l is not None and potassium_mmol_l < limits["potassium_low_mmol_l"]:
        found.append(f"potassium {number(potassium_mmol_l)} mmol/L")
    if lowest_mmol_l <= limits["sodium_risk_mmol_l"]:
        found.append(f"sodium was {number(lowest_mmol_l)} mmol/L")
    return tuple(found)


def rise_limit_names(*, at_risk: bool, acute: bool) -> tuple[str, ...]:
    """The limits of a rise in a day by name, the first passed first.

    acute: known to be under 48 h old, in which only the highest is kept.
    """
    if acute:
        return (UPPER,)
    return (GOAL, LOWER) if at_risk else (LOWER, UPPER)


def fall_limit_name(*, child: bool) -> str:
    """The limit of a fall in a day, by name."""
    return "fall_child_mmol_l_day" if child else "fall_mmol_l_day"


def next_sample_h(sodium_mmol_l: float, limits: Limits, *, sign: int, near: bool) -> float | None:
    """Hours to the next sodium; None where none is asked for.

    limits: those of the rule of a rise (sign 1) or a fall (-1). near: a limit of the day may be
    passed. Far from normal a next sample is always asked for.
    """
    if near:
        return limits["sample_h"]
    far = sign * (limits["sodium_far_mmol_l"] - sodium_mmol_l) > 0
    return limits["sample_far_h"] if far else None
