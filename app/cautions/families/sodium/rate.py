"""How fast sodium rises: what it has done already, and what the orders add."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import hours_text, listed, number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule, defaults
from app.cautions.shared.fluid_facts import is_relowering, newborn, sodium_points
from app.cautions.shared.sodium_course import (
    Course,
    carries_most,
    largest_move,
    rise_expected,
)
from app.cautions.shared.sodium_limits import (
    ACUTE_LOW,
    GLUCOSE_EMERGENCY,
    rise_limit_names,
    rise_risks,
)
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot

EUROPE_2014: Final = Source("Spasovski et al., Eur J Endocrinol 2014;170:G1", "6 and 7", seen=False)
PANEL_2013: Final = Source("Verbalis et al., Am J Med 2013;126:S1", seen=False)
REVIEW_2013: Final = Source("Review, Crit Care 2013;17:206, abstract", "10 mmol/L a day", seen=True)

NAMED_LOW: Final = ("hyponatraemia", "siadh")


def sodium_may_rise_too_fast(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """The rise already measured plus what the orders add within the same 24 hours."""
    patient, mix = situation.patient, situation.mix
    strong = mix.sodium_mmol_l > limits["fluid_sodium_strong_mmol_l"]
    if not strong and not _sodium_is_in_question(patient):
        return
    sodium = patient.value("sodium")
    if mix.cation_salt_mmol_l <= sodium or _is_exempt_from_rise(patient):
        return
    course = _rise(situation, limits)
    if course is None or not carries_most(situation, sodium):
        return
    risks = _risks(patient, course.lowest, limits)
    level = _rise_level(patient, course, risks, limits)
    if level is None:
        return
    yield Finding(
        level,
        _rise_summary(course, risks, limits),
        f"{course.history}; the orders may {course.ahead}{_risk_text(risks)}. Urine is not "
        "counted: true correction is often faster.",
        figures={
            "sodium_mmol_l": sodium,
            "change_24h_mmol_l": round(course.total, 1),
            "already_mmol_l": course.already,
            "expected_mmol_l": round(course.expected, 1),
        },
        limits=("rise_mmol_l_day", "rise_critical_mmol_l_day", "sodium_baseline_mmol_l"),
        do=_rise_advice(limits),
    )


def _sodium_is_in_question(patient: Snapshot) -> bool:
    """A usable sodium, or a record of hyponatraemia: else a usual fluid asks for no result."""
    return patient.value_or_none("sodium") is not None or patient.conditions.any_of(*NAMED_LOW)


def _is_exempt_from_rise(patient: Snapshot) -> bool:
    """Sodium that moves with glucose, and newborns, are judged by other rules."""
    return patient.conditions.any_of(*GLUCOSE_EMERGENCY) or newborn(patient)


def _rise(situation: Situation, limits: Limits) -> Course | None:
    """The largest rise in any 24 hours from a baseline that was low; None where none was."""
    patient = situation.patient
    points = sodium_points(patient)
    lowest = min(point.sodium_mmol_l for point in points)
    if lowest >= limits["sodium_baseline_mmol_l"]:
        return None
    already = points[0].sodium_mmol_l - lowest
    try:
        return largest_move(points, rise_expected(situation), sign=1)
    except NotKnown:
        if round(already) <= limits["rise_mmol_l_day"]:
            raise
        return largest_move(points, lambda _: 0.0, sign=1)


def _risks(patient: Snapshot, lowest: float, limits: Limits) -> tuple[str, ...]:
    potassium = patient.value_or_none("potassium")
    return rise_risks(patient.conditions.found, potassium, lowest, limits)


def _risk_text(risks: tuple[str, ...]) -> str:
    return f"; high risk: {listed(risks)}" if risks else ""


def _rise_level(
    patient: Snapshot, course: Course, risks: tuple[str, ...], limits: Limits
) -> Level | None:
    """Sodium is reported to the whole mmol/L, so the sum is judged to the whole."""
    total = round(course.total)
    acute = ACUTE_LOW in patient.conditions
    names = rise_limit_names(at_risk=bool(risks), acute=acute)
    if total > limits[names[-1]]:
        return "warning" if acute else "critical"
    return "warning" if total > limits[names[0]] else None


def _rise_summary(course: Course, risks: tuple[str, ...], limits: Limits) -> str:
    most = _most(course, risks, limits)
    if not course.already:
        return (
            f"Sodium {number(course.newest)} mmol/L may rise {course.total:.0f} mmol/L in "
            f"{hours_text(course.hours_ahead)} on this order; {most}."
        )
    return (
        f"Sodium is up {number(course.already)} mmol/L in {hours_text(course.hours_back)} and "
        f"this order goes on raising it; {most}."
    )


def _most(course: Course, risks: tuple[str, ...], limits: Limits) -> str:
    """The limit that was passed, in words."""
    if not risks:
        low, high = limits["rise_mmol_l_day"], limits["rise_critical_mmol_l_day"]
        return f"at most {low:g} to {high:g} a day"
    if round(course.total) > limits["rise_mmol_l_day"]:
        return f"at most {limits['rise_mmol_l_day']:g} a day at this risk"
    return f"the aim is {limits['rise_goal_mmol_l_day']:g} a day at this risk"


def sodium_has_risen_too_fast(case: Case, limits: Limits) -> Iterator[Finding]:
    """A measured rise above the limit while no order raises sodium and none lowers it again."""
    patient = case.patient
    if patient.value_or_none("sodium") is None or _is_exempt_from_rise(patient):
        return
    points = sodium_points(patient)
    course = largest_move(points, lambda _: 0.0, sign=1)
    if course.lowest >= limits["sodium_baseline_mmol_l"] or _is_being_dealt_with(case, course):
        return
    risks = _risks(patient, course.lowest, limits)
    level = _rise_level(patient, course, risks, limits)
    if level is None:
        return
    yield Finding(
        level,
        f"Sodium has risen {number(course.already)} mmol/L in {hours_text(course.hours_back)}; "
        f"{_most(course, risks, limits)}.",
        f"{course.history}{_risk_text(risks)}. No order here raises or lowers it.",
        figures={"already_mmol_l": course.already, "sodium_mmol_l": course.newest},
        limits=("rise_mmol_l_day", "rise_critical_mmol_l_day", "sodium_baseline_mmol_l"),
        do=_risen_advice(limits),
    )


def _is_being_dealt_with(case: Case, course: Course) -> bool:
    """An order raises sodium (na-rise-forecast speaks) or lowers it again on purpose."""
    if "desmopressin" in case.patient.medications:
        return True
    for order in case.orders:
        if order.mix is None:
            continue
        if order.mix.cation_salt_mmol_l > course.newest or is_relowering(Situation(case, order)):
            return True
    return False


def _rise_advice(limits: Limits) -> str:
    return (
        f"Stop or slow it; sodium now and again in {limits['sample_h']:g} h, and every "
        f"{limits['sample_far_h']:g} h while it is under {limits['sodium_far_mmol_l']:g} mmol/L. "
        f"At most {limits['rise_two_days_mmol_l']:g} mmol/L in 48 h. Above the limit ask a "
        "specialist about 5% glucose with desmopressin."
    )


def _risen_advice(limits: Limits) -> str:
    return (
        f"Sodium now and every {limits['sample_h']:g} h; ask a specialist at once about lowering "
        "it again."
    )


RISE_LIMITS: Final = (
    Limit("sodium_baseline_mmol_l", 130, "mmol/L", "sodium from which a rise is counted"),
    Limit("rise_mmol_l_day", 8, "mmol/L in 24 h", "most where risk is high", PANEL_2013),
    Limit("rise_critical_mmol_l_day", 10, "mmol/L in 24 h", "most for anyone", REVIEW_2013),
    Limit("rise_goal_mmol_l_day", 6, "mmol/L in 24 h", "aim where risk is high", PANEL_2013),
    Limit("potassium_low_mmol_l", 3.5, "mmol/L", "potassium that raises the risk"),
    Limit("sodium_risk_mmol_l", 115, "mmol/L", "lowest sodium that raises the risk", PRACTICE),
    Limit("sample_h", 2, "h", "next sodium where a limit may be passed", PRACTICE, advised=True),
)
FORECAST_LIMITS: Final = (
    *RISE_LIMITS,
    Limit(
        "rise_two_days_mmol_l", 18, "mmol/L in 48 h", "most in two days", EUROPE_2014, advised=True
    ),
    Limit("fluid_sodium_strong_mmol_l", 200, "mmol/L", "always asks for a sodium"),
    Limit("sodium_far_mmol_l", 125, "mmol/L", "sodium that is followed", PRACTICE, advised=True),
    Limit("sample_far_h", 4, "h", "next sodium while it is so low", PRACTICE, advised=True),
)
RULES: Final = (
    Rule(
        id="na-rise-forecast",
        title="Sodium may rise too fast",
        trigger="Lowest sodium of the last 24 h under 130 mmol/L, a fluid whose sodium plus "
        "potassium is above the patient's sodium, and measured rise plus forecast within 24 h, to "
        "the whole mmol/L: critical above 10, or above 8 with low potassium, alcohol, "
        "malnutrition, liver disease or a sodium that was 115 or lower; warning above 8, or above "
        "6 at that risk. Said once, of the order that raises it most.",
        unless="hyponatraemia is known to be under 48 h old (then warning, above 10), or sodium "
        "moves with glucose in ketoacidosis",
        do=_rise_advice(defaults(FORECAST_LIMITS)),
        evidence="Demyelination is rare and cohorts of 2023-24 link very slow correction with "
        "deaths, but the limits stand. The forecast ignores urine. The published panel puts high "
        "risk at 105; we count from 115.",
        sources=(EUROPE_2014, PANEL_2013, REVIEW_2013),
        needs=("sodium", "weight_kg", "rate_ml_h"),
        limits=FORECAST_LIMITS,
        levels=("critical", "warning"),
        for_order=sodium_may_rise_too_fast,
    ),
    Rule(
        id="na-rise-measured",
        title="Sodium has risen too fast",
        trigger="Measured rise within 24 h from under 130 mmol/L: critical above 10, or above 8 "
        "at high risk; warning above 8, or above 6 at high risk; while no order raises sodium "
        "or lowers it again.",
        unless="hyponatraemia is known to be under 48 h old (then warning, above 10), or sodium "
        "moves with glucose",
        do=_risen_advice(defaults(RISE_LIMITS)),
        evidence="Lowering again is advised by panels on small series.",
        sources=(EUROPE_2014, PANEL_2013),
        limits=RISE_LIMITS,
        levels=("critical", "warning"),
        for_patient=sodium_has_risen_too_fast,
    ),
)
