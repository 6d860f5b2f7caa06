"""Phosphate where it stays, or takes calcium with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.facts import FAILING_CONDITIONS, kidneys_failing, lack_of_calcium
from app.cautions.phrases import bag_with_additives, infusion_name, number, reading, reading_or_lack
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.flow import recorded
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot

LABEL: Final = Source("US potassium and sodium phosphates labels", "warnings", seen=False)
CALCIUM_SALTS: Final = ("calcium_gluconate", "calcium_chloride")
ALBUMIN_REFERENCE_G_L: Final = 40.0
PER_ALBUMIN_G: Final = 0.02


def _given(case: Case, limits: Limits) -> tuple[str, tuple[str, ...]] | None:
    """What brings phosphate, in words, with its orders; None when nothing does.

    Balanced fluids with a trace, and nutrition made up in pharmacy, do not count.
    """
    ids = tuple(
        order.id
        for order in case.orders
        if order.mix is not None and order.mix.phosphate_mmol_l > limits["trace_mmol_l"]
    )
    drugs = [
        infusion_name(other)
        for other in case.co_infusions
        if "phosphate" in other.contents and other.kind == "drug"
    ]
    if not ids and not drugs:
        return None
    names = [bag_with_additives(o) for o in case.orders if o.id in ids] + drugs
    return names[0], ids


def phosphate_that_stays(case: Case, limits: Limits) -> Iterator[Finding]:
    """Phosphate with a high phosphate, or with kidneys that cannot pass it."""
    given = _given(case, limits)
    if given is None:
        return
    patient = case.patient
    phosphate = patient.value_or_none("phosphate")
    told = "no phosphate known"
    if phosphate is not None:
        told = f"a phosphate of {number(phosphate)} mmol/L"
        if phosphate > limits["phosphate_high_mmol_l"]:
            yield _staying(given, "critical", (f"{told} already", ""), patient)
            return
        if phosphate < limits["phosphate_low_mmol_l"]:
            return
    found = recorded(patient, ("hyperphosphataemia", "tumour_lysis"))
    if found and phosphate is None:
        yield _staying(given, "critical", (found[0], found[0]), patient)
        return
    kidneys = kidneys_failing(patient)
    if kidneys.holds:
        failing = (*recorded(patient, FAILING_CONDITIONS), kidneys.because)[0]
        yield _staying(given, "warning", (f"{failing} and {told}", failing), patient)


def _staying(
    given: tuple[str, tuple[str, ...]], level: Level, because: tuple[str, str], patient: Snapshot
) -> Finding:
    """because: what it is given with, and what of that is no phosphate result."""
    also = f"; {because[1]}" if because[1] else ""
    return Finding(
        level,
        f"Phosphate is given with {because[0]}.",
        f"Given as {given[0]}; {reading_or_lack(patient, 'phosphate')}{also}.",
        figures={"because": because[0]},
        limits=("phosphate_high_mmol_l", "phosphate_low_mmol_l", "trace_mmol_l"),
        order_ids=given[1],
    )


def phosphate_and_calcium(case: Case, limits: Limits) -> Iterator[Finding]:
    """Phosphate with a low calcium, which falls further, or a high one, which falls out."""
    given = _given(case, limits)
    if given is None:
        return
    calcium = _calcium(case.patient, limits)
    if calcium is None:
        return
    replaced = calcium.low and _calcium_is_replaced(case, limits)
    if not replaced or calcium.very_low:
        yield _calcium_finding(given, calcium, replaced)


def _calcium_is_replaced(case: Case, limits: Limits) -> bool:
    """A calcium salt is given as well; one lumen for both is spoken of by the rules of lines."""
    return any(_replaces_calcium(order, limits) for order in case.orders) or any(
        other.key in CALCIUM_SALTS and not other.carried_by for other in case.co_infusions
    )


def _replaces_calcium(order: Order, limits: Limits) -> bool:
    if order.mix is not None:
        salt = order.mix.calcium_mmol_l > limits["trace_mmol_l"]
        return salt and order.mix.phosphate_mmol_l <= limits["trace_mmol_l"]
    named = {additive.substance for additive in order.additives}
    return not named.isdisjoint((*CALCIUM_SALTS, "calcium"))


@dataclass(frozen=True, slots=True)
class Calcium:
    """A calcium that is off: how it is said, the text with its age, and how far off."""

    told: str
    reading: str
    low: bool
    very_low: bool = False


def _calcium(patient: Snapshot, limits: Limits) -> Calcium | None:
    """What is off with calcium, by the ionised, the total or the record; None if nothing.

    NotKnown where nothing tells.
    """
    ionised = patient.value_or_none("calcium_ionised")
    total = patient.value_or_none("calcium_total")
    if ionised is not None:
        told = f"ionised calcium {number(ionised)} mmol/L"
        low, high = ionised < limits["ionised_low_mmol_l"], ionised > limits["ionised_high_mmol_l"]
        very_low = ionised < limits["ionised_very_low_mmol_l"]
        said = reading(patient, "calcium_ionised")
    elif total is not None:
        told, very_low = f"calcium {number(total)} mmol/L", False
        low = _for_albumin(patient, total) < limits["total_low_mmol_l"]
        high, said = total > limits["total_high_mmol_l"], reading(patient, "calcium_total")
    else:
        low, high = (k in patient.conditions for k in ("hypocalcaemia", "hypercalcaemia"))
        told, said, very_low = f"a {'low' if low else 'high'} calcium", "recorded", False
        if not low and not high:
            raise lack_of_calcium(patient)
    return Calcium(told, said, low, very_low) if low or high else None


def _for_albumin(patient: Snapshot, total_mmol_l: float) -> float:
    """Total calcium counted up for a low albumin, mmol/L (common practice, no source)."""
    albumin = patient.value_or_none("albumin")
    if albumin is None:
        return total_mmol_l
    return total_mmol_l + PER_ALBUMIN_G * max(0.0, ALBUMIN_REFERENCE_G_L - albumin)


def _calcium_finding(
    given: tuple[str, tuple[str, ...]], calcium: Calcium, replaced: bool
) -> Finding:
    goes = "calcium falls further" if calcium.low else "the two can fall out in kidney and lung"
    return Finding(
        "critical" if calcium.very_low and not replaced else "warning",
        f"Phosphate is given with {calcium.told}: {goes}.",
        f"Given as {given[0]}; {calcium.reading}.",
        figures={"calcium": calcium.told},
        limits=(
            ("ionised_low_mmol_l", "ionised_very_low_mmol_l", "total_low_mmol_l")
            if calcium.low
            else ("ionised_high_mmol_l", "total_high_mmol_l")
        ),
        order_ids=given[1],
    )


TRACE: Final = Limit(
    "trace_mmol_l", 5, "mmol/L", "phosphate or calcium of a balanced fluid", PRACTICE
)

RULES: Final = (
    Rule(
        id="phos-renal",
        title="Phosphate that stays",
        trigger="Phosphate by drip with a plasma phosphate above 1.5 mmol/L (or recorded as high): "
        "critical. With failing kidneys and a phosphate of 0.65 mmol/L or more, or not known: "
        "warning.",
        unless="phosphate is truly low, as in continuous filtration, or it is part of nutrition",
        do="Stop it; repeat phosphate, calcium and creatinine. If it is low, give half the dose.",
        evidence="What the kidney does not pass binds calcium.",
        sources=(LABEL, PRACTICE),
        needs=("creatinine",),
        limits=(
            Limit("phosphate_high_mmol_l", 1.5, "mmol/L", "phosphate that is high"),
            Limit("phosphate_low_mmol_l", 0.65, "mmol/L", "phosphate that is truly low", PRACTICE),
            TRACE,
        ),
        levels=("critical", "warning"),
        for_patient=phosphate_that_stays,
    ),
    Rule(
        id="phos-calcium",
        title="Phosphate with disturbed calcium",
        trigger="Phosphate by drip with ionised calcium under 1.0 mmol/L (critical under 0.9) or "
        "above 1.35, or else total calcium under 2.0 (counted up for albumin) or above 2.65, or "
        "low or high calcium recorded.",
        unless="a low calcium is being replaced by another line (under 0.9 mmol/L then a warning)",
        do="Correct calcium first, by another line; then give phosphate slowly.",
        evidence="Phosphate binds calcium: tetany and a long QT where it is low, calcification "
        "where it is high.",
        sources=(LABEL, PRACTICE),
        needs=("calcium_ionised",),
        limits=(
            Limit("ionised_low_mmol_l", 1.0, "mmol/L", "ionised calcium that is low"),
            Limit("ionised_very_low_mmol_l", 0.9, "mmol/L", "very low", PRACTICE),
            Limit("ionised_high_mmol_l", 1.35, "mmol/L", "ionised calcium that is high"),
            Limit("total_low_mmol_l", 2.0, "mmol/L", "total calcium that is low"),
            Limit("total_high_mmol_l", 2.65, "mmol/L", "total calcium that is high"),
            TRACE,
        ),
        levels=("critical", "warning"),
        for_patient=phosphate_and_calcium,
    ),
)
