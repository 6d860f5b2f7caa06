"""How fast a high sodium falls: what it has done already, and what the orders add."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule, defaults
from app.cautions.shared.fluid_facts import child, sodium_points
from app.cautions.shared.sodium_course import carries_most, fall_expected, largest_move
from app.cautions.shared.sodium_limits import NO_FALL_LIMIT, fall_limit_name
from app.patient.case import Situation
from app.patient.snapshot import Snapshot

HYPERNATRAEMIA_2000: Final = Source("Adrogue and Madias, N Engl J Med 2000;342:1493", seen=False)
COHORT_2019: Final = Source("Chauhan et al., Clin J Am Soc Nephrol 2019;14:656", seen=False)


def sodium_may_fall_too_fast(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """The fall already measured plus what the orders add, in long-standing hypernatraemia."""
    patient, mix = situation.patient, situation.mix
    named = "hypernatraemia" in patient.conditions
    if not named and patient.value_or_none("sodium") is None:
        return
    sodium = patient.value("sodium")
    if mix.cation_salt_mmol_l >= sodium or _is_exempt_from_fall(patient):
        return
    points = sodium_points(patient)
    if max(point.sodium_mmol_l for point in points) <= limits["sodium_high_mmol_l"]:
        return
    if not carries_most(situation, sodium):
        return
    course = largest_move(points, fall_expected(situation), sign=-1)
    name = fall_limit_name(child=child(patient))
    if round(-course.total) <= limits[name]:
        return
    yield Finding(
        "warning",
        f"Sodium {number(course.newest)} mmol/L would be down {-course.total:.0f} mmol/L in a "
        f"day; at most {limits[name]:g} is the usual aim.",
        f"{course.history}; the orders may {course.ahead}, with insensible losses and half the "
        "urine counted.",
        figures={
            "sodium_mmol_l": sodium,
            "change_24h_mmol_l": round(course.total, 1),
            "already_mmol_l": course.already,
        },
        limits=(name, "sodium_high_mmol_l"),
        do=_fall_advice(limits),
    )


def _is_exempt_from_fall(patient: Snapshot) -> bool:
    """Salt taken within two days, urine that runs away, or sodium that moves with glucose."""
    return patient.conditions.any_of(*NO_FALL_LIMIT)


def _fall_advice(limits: Limits) -> str:
    return (
        f"Slow the water; sodium again in {limits['sample_h']:g} h, and every "
        f"{limits['sample_far_h']:g} h while it is above {limits['sodium_far_mmol_l']:g} mmol/L."
    )


FALL_LIMITS: Final = (
    Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that is high"),
    Limit("fall_mmol_l_day", 10, "mmol/L in 24 h", "most in an adult"),
    Limit("fall_child_mmol_l_day", 12, "mmol/L in 24 h", "most in a child"),
    Limit("sample_h", 4, "h", "next sodium where the limit may be passed", PRACTICE, advised=True),
    Limit("sodium_far_mmol_l", 155, "mmol/L", "sodium that is followed", PRACTICE, advised=True),
    Limit("sample_far_h", 6, "h", "next sodium while it is so high", PRACTICE, advised=True),
)


RULES: Final = (
    Rule(
        id="na-fall-forecast",
        title="Sodium may fall too fast",
        trigger="Highest sodium of the last 24 h above 145 mmol/L and measured fall plus forecast "
        "within 24 h above 10 mmol/L (child 12), insensible losses and half the urine "
        "counted; said once, of the order that lowers it most.",
        unless="the salt came within 48 h, diabetes insipidus, or sodium moves with glucose",
        do=_fall_advice(defaults(FALL_LIMITS)),
        evidence="In adults little harm of a faster fall has been shown; in infants seizures.",
        sources=(HYPERNATRAEMIA_2000, COHORT_2019),
        needs=("sodium", "weight_kg", "rate_ml_h"),
        limits=FALL_LIMITS,
        levels=("warning",),
        for_order=sodium_may_fall_too_fast,
    ),
)
