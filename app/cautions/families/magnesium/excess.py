"""Magnesium that is not excreted, or is already too much."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import at_most_warning, kidneys_failing, kidneys_known_to_fail
from app.cautions.phrases import bag_name, number, opening, reading_or_lack, volume_text
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import HOURS_PER_DAY, child, litres_within
from app.cautions.shared.magnesium_given import SALT_FROM_MMOL_L, MagnesiumGiven, magnesium_given
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot

TYPE_1_LABEL: Final = Source("Label of multiple electrolytes injection, type 1", seen=False)
MAGNESIUM_LABEL: Final = Source("US magnesium sulfate injection label", seen=False)
PRE_ECLAMPSIA: Final = Source("Magpie, Lancet 2002;359:1877, and protocols since", seen=False)
FOR_SEIZURES: Final = ("pre_eclampsia",)
# Level, what it is given with, and what of that is no magnesium result.
Said = tuple[Level, str, str]
SIGNS: Final = {"lost_reflexes": "lost reflexes", "magnesium_toxicity": "magnesium toxicity"}
NO_URINE: Final = ("oliguria", "anuria", "dialysis")


def added_magnesium(case: Case, limits: Limits) -> Iterator[Finding]:
    """A magnesium salt to a patient who shows too much of it, or cannot excrete it."""
    given = magnesium_given(case)
    if not given:
        return
    said = _said(case.patient, given, limits)
    if said is None:
        return
    level, because, signs = said
    main = max(given, key=lambda source: source.runs_on)
    result = reading_or_lack(case.patient, "magnesium")
    amount = f"{number(main.mmol)} mmol of magnesium" if main.mmol else "Magnesium"
    yield Finding(
        level,
        f"Magnesium {'runs on' if main.runs_on else 'is given'} with {because}.",
        f"{amount} in {main.name}{' in 24 h' if main.runs_on and main.mmol else ''}"
        f"; {result}{f'; {signs}' if signs else ''}.",
        figures={"because": because},
        limits=(),
        order_ids=tuple(source.order_id for source in given if source.order_id),
        do=STOP if level == "critical" else "",
    )


STOP: Final = (
    "Stop the magnesium; check breathing, knee jerks and a magnesium level now; have calcium "
    "gluconate 1 g at the bedside."
)


def _said(patient: Snapshot, given: tuple[MagnesiumGiven, ...], limits: Limits) -> Said | None:
    runs = any(source.runs_on for source in given)
    signs = _signs_of_excess(patient, limits)
    if signs is not None:
        return signs
    little_urine = _little_urine(patient, limits)
    seizures = patient.conditions.any_of(*FOR_SEIZURES)
    if little_urine and not (seizures and not runs):
        return ("critical" if runs else "warning"), little_urine, little_urine
    if seizures and not runs:
        # A first dose is right whatever the kidneys; only what follows it waits for them.
        return None
    return _by_kidneys(patient, given, limits)


def _signs_of_excess(patient: Snapshot, limits: Limits) -> Said | None:
    told = reading_or_lack(patient, "magnesium").replace("magnesium ", "a magnesium of ", 1)
    for key, said in SIGNS.items():
        if key in patient.conditions:
            return "critical", f"{said} and {told}", said
    level = patient.value_or_none("magnesium")
    if level is None:
        return _weak_reflexes(patient)
    seizures = patient.conditions.any_of(*FOR_SEIZURES)
    if level > limits["toxic_pre_eclampsia_mmol_l" if seizures else "toxic_mmol_l"]:
        return "critical", told, ""
    if level > limits["magnesium_high_mmol_l"] and not seizures:
        return "warning", told, ""
    return _weak_reflexes(patient)


def _weak_reflexes(patient: Snapshot) -> Said | None:
    """Reflexes that are still there and weaker: the first sign, before they go."""
    weak = "weak_reflexes" in patient.conditions
    return ("warning", "weak reflexes", "weak reflexes") if weak else None


def _little_urine(patient: Snapshot, limits: Limits) -> str:
    """What says that hardly any urine is passed, empty when nothing does."""
    recorded = next((key for key in NO_URINE if key in patient.conditions), "")
    if patient.urine_ml_h is None:
        return recorded
    least = limits["urine_ml_h"]
    if child(patient) and patient.weight_kg is not None:
        least = limits["urine_child_ml_kg_h"] * patient.weight_kg
    return f"urine {number(patient.urine_ml_h)} mL/h" if patient.urine_ml_h < least else recorded


def _by_kidneys(
    patient: Snapshot, given: tuple[MagnesiumGiven, ...], limits: Limits
) -> Said | None:
    total = sum(source.mmol or 0.0 for source in given)
    much = any(source.runs_on for source in given) or total > limits["dose_mmol"]
    try:
        kidneys = kidneys_failing(patient)
    except NotKnown:
        if _worth_asking(patient, given, limits):
            raise
        return None
    if not kidneys.holds:
        return None
    plasma = patient.value_or_none("magnesium")
    lacking = plasma is not None and plasma < limits["magnesium_low_mmol_l"]
    level = at_most_warning("info" if lacking and not much else "warning", kidneys)
    return level, kidneys.because, kidneys.because


def _worth_asking(patient: Snapshot, given: tuple[MagnesiumGiven, ...], limits: Limits) -> bool:
    """An infusion, or much at once, and nobody has written that reflexes are there."""
    if "reflexes_present" in patient.conditions:
        return False
    total = sum(source.mmol or 0.0 for source in given)
    return any(source.runs_on for source in given) or total > limits["ask_mmol"]


def magnesium_of_a_fluid(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A balanced fluid's own magnesium, in litres, where it is not excreted."""
    order, mix, patient = situation.order, situation.order.mix, situation.patient
    if mix is None or not 0 < mix.magnesium_mmol_l <= SALT_FROM_MMOL_L:
        return
    litres = litres_within(order, HOURS_PER_DAY)
    if litres is None or litres <= limits["litres_high_level"]:
        return
    plasma = patient.value_or_none("magnesium")
    high = plasma is not None and plasma > limits["magnesium_high_mmol_l"]
    if not high and not (litres > limits["litres_failing"] and kidneys_known_to_fail(patient)):
        return
    why = reading_or_lack(patient, "magnesium")
    yield Finding(
        "warning" if high else "info",
        f"{opening(bag_name(order))} brings {number(mix.magnesium_mmol_l * litres)} mmol of "
        f"magnesium in 24 h, with {why if high else 'failing kidneys'}.",
        f"{volume_text(litres)} in 24 h of {number(mix.magnesium_mmol_l)} mmol/L; {why}.",
        figures={"magnesium_mmol_day": mix.magnesium_mmol_l * litres},
        limits=("litres_failing", "litres_high_level", "magnesium_high_mmol_l"),
    )


RULES: Final = (
    Rule(
        id="mg-renal",
        title="Magnesium that is not excreted",
        trigger="A magnesium salt is given: critical with lost reflexes or recorded toxicity, with "
        "magnesium above 2.5 mmol/L (3.5 in pre-eclampsia), or while it runs on with urine under "
        "25 mL/h; warning with weak reflexes, failing kidneys or magnesium above 1.5. More than 3 "
        "L a day of a fluid with magnesium and failing kidneys is info; warning above 1 L with "
        "magnesium above 1.5.",
        unless="it is the first dose in pre-eclampsia, which is right whatever the kidneys; a "
        "small dose for a low magnesium is only mentioned",
        do="Halve the dose or hold it, and check knee jerks, breathing, urine and a magnesium "
        "level.",
        evidence="Magnesium leaves by the kidneys alone. Reflexes go at about 3.5 to 5 mmol/L, "
        "breathing at 5 to 6.5; protocols stop the infusion under 100 mL of urine in 4 hours.",
        sources=(MAGNESIUM_LABEL, PRE_ECLAMPSIA, TYPE_1_LABEL, PRACTICE),
        needs=("creatinine",),
        limits=(
            Limit("magnesium_high_mmol_l", 1.5, "mmol/L", "magnesium that is high"),
            Limit("magnesium_low_mmol_l", 0.7, "mmol/L", "magnesium that is low", PRACTICE),
            Limit("toxic_mmol_l", 2.5, "mmol/L", "too high", PRACTICE),
            Limit(
                "toxic_pre_eclampsia_mmol_l",
                3.5,
                "mmol/L",
                "above the range that stops seizures",
                PRE_ECLAMPSIA,
            ),
            Limit("urine_ml_h", 25, "mL/h", "urine at which it is stopped", PRE_ECLAMPSIA),
            Limit("urine_child_ml_kg_h", 0.5, "mL/kg/h", "the same in a child", PRACTICE),
            Limit("dose_mmol", 10, "mmol", "a small dose", PRACTICE),
            Limit("ask_mmol", 20, "mmol", "a dose that asks about the kidneys", PRACTICE),
            Limit("litres_failing", 3, "L/24 h", "fluid that matters with failing kidneys"),
            Limit("litres_high_level", 1, "L/24 h", "fluid that matters when it is high"),
        ),
        levels=("critical", "warning", "info"),
        for_order=magnesium_of_a_fluid,
        for_patient=added_magnesium,
    ),
)
