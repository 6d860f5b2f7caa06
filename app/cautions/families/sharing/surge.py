"""A bolus through the lumen of a running vasoactive drug, insulin or sedation."""

from collections.abc import Iterator
from typing import Final

from app.cautions.cited import PRACTICE
from app.cautions.phrases import infusion_name, opening, short
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.lines import HOW, SHARED, is_blood, place_text
from app.cautions.shared.substances import (
    Infusion,
    infusions_of,
    is_dose,
    name_of,
    order_ids_of,
    runs_on,
)
from app.cautions.shared.veins import hours_to_run
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.sharing import Sharing, sharing

SURGES_LESS: Final = ("insulin", "sedative", "propofol", "vasodilator", "opioid")
THEATRES_OWN: Final = ("phenylephrine", "metaraminol", "ephedrine")
MINUTES_PER_HOUR: Final = 60.0


def bolus_on_the_lumen(case: Case, limits: Limits) -> Iterator[Finding]:
    """One finding for each drug whose lumen also takes a bolus: the surest bolus is named."""
    for drug in case.co_infusions:
        if drug.kind != "drug" or not (_is_vasoactive(drug) or _surges_less(drug)):
            continue
        if _in_a_dose(case, drug):
            continue
        if not runs_on(drug) and not (_surges_less(drug) and drug.lumen):
            continue
        for bolus in infusions_of(case):
            way = _meets(case, bolus, drug, limits)
            level = _level(case, drug, way)
            if level is not None:
                yield _finding(drug, bolus, way, level)
                break


def _in_a_dose(case: Case, drug: CoInfusion) -> bool:
    """Put into a bag that is itself a dose, as insulin into glucose for a high potassium."""
    return any(order.id == drug.carried_by and is_dose(order) for order in case.orders)


def _is_vasoactive(drug: CoInfusion) -> bool:
    return "vasoactive" in drug.contents


def _surges_less(drug: CoInfusion) -> bool:
    return not drug.contents.isdisjoint(SURGES_LESS)


def _meets(case: Case, bolus: Infusion, drug: CoInfusion, limits: Limits) -> Sharing:
    """How a bolus stands to the drug; "apart" for what is no bolus, or is the drug's own bag."""
    longest = limits["dose_min" if _is_vasoactive(drug) else "dose_less_min"]
    if bolus is drug or not _is_bolus(bolus, longest):
        return "apart"
    if isinstance(bolus, Order) and bolus.id == drug.carried_by:
        return "apart"
    return sharing(case, bolus, drug)


def _is_bolus(one: Infusion, longest_min: float) -> bool:
    """A fluid bolus, or a bag or dose that runs no longer than that."""
    if isinstance(one, CoInfusion):
        short_dose = one.duration_min is not None and one.duration_min <= longest_min
        return short_dose and one.kind == "drug" and not is_blood(one)
    if one.is_bolus or one.purpose == "resuscitation":
        return True
    hours = hours_to_run(one)
    if not one.volume_ml or not hours or one.purpose in ("carrier", "maintenance"):
        return False
    return hours * MINUTES_PER_HOUR <= longest_min


def _level(case: Case, drug: CoInfusion, way: Sharing) -> Level | None:
    if way not in SHARED:
        return None
    if not _is_vasoactive(drug) or _is_theatres_own(case, drug):
        return "warning" if way == "together" else None
    return "critical" if way == "together" else "warning"


def _is_theatres_own(case: Case, drug: CoInfusion) -> bool:
    """A mild vasopressor that an anaesthetist runs and watches beside fluid by one cannula."""
    return case.patient.setting == "theatre" and drug.key in THEATRES_OWN


def _finding(drug: CoInfusion, bolus: Infusion, way: Sharing, level: Level) -> Finding:
    name = infusion_name(drug)
    dose = "A bolus" if isinstance(bolus, Order) else "A dose"
    return Finding(
        level,
        f"{dose} of {short(name_of(bolus))} {HOW[way]} {name}: it pushes a surge of the drug.",
        f"{place_text(way, drug)} {opening(name)} stands in the line and is pushed ahead of the "
        f"{'bolus' if isinstance(bolus, Order) else 'dose'}; after it the drug is lacking.",
        figures={"line": way, "drug": name},
        limits=(),
        order_ids=order_ids_of(bolus),
    )


RULES: Final = (
    Rule(
        id="line-vasoactive-with-bolus",
        title="Bolus through the lumen of a vasoactive drug",
        trigger="A fluid bolus, or a small bag or dose of an hour at most, on the lumen of a "
        "running vasoactive drug: critical where the lumen is named for both or they are written "
        "together, warning where the patient has one lumen. With insulin, sedation or a "
        "vasodilator, or phenylephrine in theatre, a warning on the same named lumen (half an hour "
        "at most).",
        unless="it runs on another lumen; a carrier or maintenance at a steady rate, or a drug "
        "given as a push, is no bolus on an infusion",
        do="Give the bolus by another lumen; if there is none, place one now.",
        evidence="The line's dead space holds minutes of the drug. No trial; nobody doubts it.",
        sources=(PRACTICE,),
        limits=(
            Limit("dose_min", 60, "min", "longest that counts as a bolus or dose"),
            Limit("dose_less_min", 30, "min", "the same with insulin, sedation, vasodilators"),
        ),
        levels=("critical", "warning"),
        for_patient=bolus_on_the_lumen,
    ),
)
