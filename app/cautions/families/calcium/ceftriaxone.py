"""Ceftriaxone and calcium: never in a newborn, never together in anyone else."""

import re
from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.phrases import bag_name, infusion_name, listed, number, opening, short
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.lines import HOW, LEVEL, SHARED, place_text
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.patient.sharing import Sharing, closest
from app.patient.snapshot import DAYS_PER_YEAR, Snapshot
from app.physiology.calcium import order_brings_calcium, other_brings_calcium

LABEL: Final = Source(
    "US ceftriaxone label, contraindications and warnings, as changed in 2007 and 2009",
    "text of the change",
    seen=True,
)
GLUCONATE_LABEL: Final = Source("US calcium gluconate injection label", "5.2", seen=True)
NAME: Final = "ceftriaxone"
# Past the 48 hours in which a newborn's calcium counts.
LONG_AGO: Final = re.compile(r"\b(?:[3-9]|\d\d+) ?d(?:ays?)? ago|\b(?:week|month)s? ago|last week")
CALCIUM_DRUGS: Final = ("calcium_gluconate", "calcium_chloride", "parenteral_nutrition")


def _ceftriaxone_of(case: Case) -> tuple[CoInfusion, ...]:
    return tuple(o for o in case.co_infusions if NAME in (o.key, *o.contents))


def _is_given(case: Case) -> bool:
    return _on_the_chart(case.patient) or bool(_ceftriaxone_of(case))


def _just_ended(case: Case) -> bool:
    """Written as stopped or given, and not days ago: it may still be in the blood."""
    ended = (o for o in case.set_aside if o.key == NAME and o.stands == "ended")
    return any(not LONG_AGO.search(other.name.lower()) for other in ended)


def _on_the_chart(patient: Snapshot) -> bool:
    """On the drug chart, and not written as given into muscle."""
    written = patient.medications.detail.get(NAME, "").lower().replace(".", " ").split()
    return NAME in patient.medications and not {"im", "intramuscular"} & set(written)


def _holds_it(order: Order) -> bool:
    return any(NAME in additive.substance.lower() for additive in order.additives)


def _surely_calcium(order: Order) -> bool:
    try:
        return order_brings_calcium(order)
    except NotKnown:
        return False


def _calcium_names(case: Case) -> tuple[str, ...]:
    """What brings calcium; NotKnown("fluid") when nothing surely does and an order may."""
    orders = [bag_name(order) for order in case.orders if _surely_calcium(order)]
    drugs = [infusion_name(other) for other in case.co_infusions if other_brings_calcium(other)]
    charted = [k.replace("_", " ") for k in CALCIUM_DRUGS if k in case.patient.medications]
    names = tuple(dict.fromkeys([*orders, *drugs, *charted]))
    if not names:
        for order in case.orders:
            order_brings_calcium(order)
    return names


def ceftriaxone_in_a_newborn(case: Case, limits: Limits) -> Iterator[Finding]:
    """Ceftriaxone and any calcium by vein, whatever the line and the hour."""
    if not _is_given(case) and not _just_ended(case):
        return
    calcium = _calcium_names(case)
    if not calcium:
        return
    newborn, age = _newborn(case.patient, limits)
    preterm = not newborn and _may_be_preterm_still(case.patient, limits)
    if not (newborn or preterm):
        return
    of_age = "" if case.patient.age_years is None else f" of {age}"
    whom = f"a newborn{of_age}" if newborn else f"a preterm baby, now {age}"
    ids = tuple(order.id for order in case.orders if _surely_calcium(order))
    yield Finding(
        "critical" if newborn else "warning",
        f"Ceftriaxone and calcium ({calcium[0]}) in {whom}: crystals can kill, on any line.",
        f"Age: {age}; calcium comes with {listed(calcium)}. Newborns died with crystals in "
        "lung and kidney, some when the two were given by other lines and at other times.",
        figures={"age": age, "calcium_from": listed(calcium)},
        limits=("newborn_to_days",) if newborn else ("preterm_to_days",),
        order_ids=ids,
    )


def _newborn(patient: Snapshot, limits: Limits) -> tuple[bool, str]:
    if patient.age_years is None:
        newborn = "newborn" in patient.conditions or patient.is_neonate()
        return newborn, "not told, on a unit for newborns" if newborn else "not told"
    days = patient.age_years * DAYS_PER_YEAR
    return days <= limits["newborn_to_days"], f"{days:.0f} days"


def _may_be_preterm_still(patient: Snapshot, limits: Limits) -> bool:
    if patient.age_years is None or "preterm" not in patient.conditions:
        return False
    return patient.age_years * DAYS_PER_YEAR <= limits["preterm_to_days"]


def _surely_newborn(patient: Snapshot) -> bool:
    """Known to be a newborn: then cef-ca-neonate speaks, and louder."""
    known_age = patient.age_years is not None or patient.setting is not None
    return "newborn" in patient.conditions or (known_age and patient.is_neonate())


def ceftriaxone_on_the_line(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Ceftriaxone and a fluid with calcium in one line at one time, past the newborn age."""
    case, order = situation.case, situation.order
    near = closest(case, order, _ceftriaxone_of(case))
    if near is None and not _holds_it(order) and _on_the_chart(case.patient):
        near = _as_a_listed_drug(case)
    if near is None or near[0] not in HOW or _surely_newborn(case.patient):
        return
    if not order_brings_calcium(order):
        return
    mix = order.mix
    holds = f" (calcium {number(mix.calcium_mmol_l)} mmol/L)" if mix else ""
    yield _sameline_finding(near, f"{opening(bag_name(order))}{holds}")


def _as_a_listed_drug(case: Case) -> tuple[Sharing, CoInfusion]:
    """A dose from the drug chart: it can only meet the fluid where there is one lumen."""
    return (
        "not known" if len(case.patient.access) == 1 else "room",
        CoInfusion(NAME, "drug", key=NAME),
    )


def ceftriaxone_beside_calcium(case: Case, _: Limits) -> Iterator[Finding]:
    """Ceftriaxone and a calcium drug or nutrition in one line at one time."""
    if _surely_newborn(case.patient):
        return
    for other in case.co_infusions:
        near = closest(case, other, _ceftriaxone_of(case))
        if near is None or NAME in (other.key, *other.contents) or not other_brings_calcium(other):
            continue
        way, drug = near
        if way == "not known" and other.kind == "nutrition":
            way = "room"
        if way in HOW:
            yield _sameline_finding((way, drug), opening(infusion_name(other)))


def _sameline_finding(near: tuple[Sharing, CoInfusion], what: str) -> Finding:
    way, drug = near
    end = "flush between the two." if way in SHARED else "never both at once."
    return Finding(
        LEVEL[way],
        f"{what} {HOW[way]} ceftriaxone: {end}",
        f"{place_text(way, drug)} Together they form crystals in the line.",
        figures={"line": way},
    )


def calcium_bag_with_ceftriaxone_in_it(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Ceftriaxone added to a bag that holds calcium."""
    order = situation.order
    if _holds_it(order) and order_brings_calcium(order):
        yield _diluent_finding(bag_name(order))


def calcium_diluent(case: Case, _: Limits) -> Iterator[Finding]:
    """Ceftriaxone made up in a fluid that holds calcium."""
    for drug in _ceftriaxone_of(case):
        if drug.carried_by or drug.diluent is None:
            continue
        if drug.diluent.composition.calcium_mmol_l > 0:
            yield _diluent_finding(short(drug.diluent.name))


def _diluent_finding(fluid: str) -> Finding:
    return Finding(
        "critical",
        f"Ceftriaxone is made up in {fluid}, which holds calcium: crystals form in the bag.",
        f"{opening(fluid)} holds calcium; ceftriaxone and calcium crystallise in one container.",
        figures={"diluent": fluid},
    )


RULES: Final = (
    Rule(
        id="cef-ca-neonate",
        title="Ceftriaxone and calcium in a newborn",
        trigger="To 28 days of age, ceftriaxone with any calcium by vein (fluid, additive, drug or "
        "nutrition), whatever the line and within 48 hours of each other; in a preterm baby a "
        "warning to 17 weeks of age.",
        unless="the nutrition is free of calcium, and no calcium is due within 48 hours",
        do="Do not give both: ask for another antibiotic, for example cefotaxime, today.",
        evidence="Newborns died with crystals in lung and kidney, some with different lines and "
        "times. The label bars ceftriaxone in preterm babies to 41 weeks after the mother's last "
        "period, which 17 weeks of age covers for the earliest born.",
        sources=(LABEL,),
        needs=("age_years", "fluid"),
        limits=(
            Limit("newborn_to_days", 28, "d", "age to which the two are never given"),
            Limit("preterm_to_days", 119, "d", "age to which a preterm baby is asked about"),
        ),
        population="child",
        levels=("critical", "warning"),
        for_patient=ceftriaxone_in_a_newborn,
    ),
    Rule(
        id="cef-ca-sameline",
        title="Ceftriaxone and calcium together on one line",
        trigger="Past 28 days of age, ceftriaxone with a fluid, drug or nutrition that holds "
        "calcium on the same lumen: critical where that is told or the patient has one lumen and "
        "no flush is written, warning where lumens are not told and may not suffice.",
        unless="they run on different lumens, or one after the other with a thorough flush",
        do="Stop the calcium, flush with 0.9% sodium chloride, give the ceftriaxone, flush again; "
        "or use another lumen. Never by Y-site together.",
        evidence="Outside the newborn period the label accepts giving them in turn with a flush "
        "since 2009; there is no need to keep them 48 hours apart.",
        sources=(LABEL, GLUCONATE_LABEL),
        needs=("fluid",),
        levels=("critical", "warning", "info"),
        for_order=ceftriaxone_on_the_line,
        for_patient=ceftriaxone_beside_calcium,
    ),
    Rule(
        id="cef-ca-diluent",
        title="Ceftriaxone made up in a fluid with calcium",
        trigger="The diluent of ceftriaxone, or the bag it is added to, holds calcium.",
        unless="the diluent is free of calcium",
        do="Make it up in 0.9% sodium chloride or 5% dextrose; discard a bag already made.",
        evidence="Crystals form in the bag itself, before any patient is reached.",
        sources=(LABEL,),
        needs=("fluid",),
        levels=("critical",),
        for_order=calcium_bag_with_ceftriaxone_in_it,
        for_patient=calcium_diluent,
    ),
)
