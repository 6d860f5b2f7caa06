"""Osmolarity by a peripheral vein, of fluids and of nutrition."""

import re
from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, infusion_name, number, opening
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import HYPERTONIC_SODIUM_MMOL_L, child
from app.cautions.shared.veins import (
    SMALL_DOSE_ML,
    by_small_vein,
    hours_to_run,
    is_rescue,
    is_short,
    surely_small_vein,
    vein_text,
)
from app.patient.case import Case, Situation
from app.patient.order import CoInfusion, Order

DEXTROSE_LABEL: Final = Source("US 10% dextrose injection label", "5.3", seen=True)
HYPERTONIC_LABEL: Final = Source(
    "US 3% and 5% sodium chloride injection label", "footnote on osmolarity", seen=True
)
NURSING: Final = Source("Infusion nursing standards of practice, 2021 and 2024", seen=False)
NUTRITION: Final = Source(
    "ESPEN guideline on access for parenteral nutrition, 2009; ASPEN, 2014", seen=False
)
MADE_FOR_SMALL_VEIN: Final = re.compile(r"\bperipheral|\bppn\b", re.IGNORECASE)
# Own rules speak of these, each louder or with its own exceptions.
CALCIUM_SALT_MMOL_L: Final = 5.0
CRISES: Final = ("diabetic_ketoacidosis", "hyperosmolar_state")
MIXED: Final = "parenteral_nutrition"


def _osmolarity(order: Order) -> float | None:
    if order.mix is None:
        return None
    if order.mix.osmolarity_mosm_l is None and order.fluid is not None:
        return order.fluid.osmolarity_mosm_l
    return order.mix.osmolarity_mosm_l


def _has_its_own_rule(order: Order) -> bool:
    """Strong saline and calcium salts: line-hypertonic-saline and ca-extravasation speak."""
    mix = order.mix
    if mix is None:
        return True
    saline = mix.sodium_mmol_l > HYPERTONIC_SODIUM_MMOL_L and not mix.bicarbonate_mmol_l
    return (saline and not mix.glucose_g_l) or mix.calcium_mmol_l > CALCIUM_SALT_MMOL_L


def fluid_too_concentrated(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A bag above what a peripheral vein bears."""
    order = situation.order
    osmolarity = _osmolarity(order)
    if osmolarity is None or osmolarity <= limits["osmolarity_most_mosm_l"]:
        return
    if _has_its_own_rule(order) or is_rescue(situation):
        return
    if not by_small_vein(situation.patient, order.lumen):
        return
    small = is_short(order, SMALL_DOSE_ML) and not order.mix.glucose_g_l if order.mix else False
    yield _too_concentrated(
        "info" if small else "critical",
        f"{opening(bag_name(order))} ({number(osmolarity)} mOsm/L)",
        vein_text(situation.patient, order.lumen),
        osmolarity,
    )


def nutrition_too_concentrated(case: Case, limits: Limits) -> Iterator[Finding]:
    """Nutrition above what a peripheral vein bears, by the osmolarity written or else by nature."""
    for other in case.co_infusions:
        if other.kind != "nutrition" or not surely_small_vein(case.patient, other.lumen):
            continue
        osmolarity = other.osmolarity_mosm_l
        if osmolarity is None:
            if other.key == MIXED and not MADE_FOR_SMALL_VEIN.search(other.name):
                yield _nutrition_of_no_osmolarity(case, other)
        elif osmolarity > limits["osmolarity_most_mosm_l"]:
            what = f"{opening(infusion_name(other))} of {number(osmolarity)} mOsm/L"
            vein = vein_text(case.patient, other.lumen)
            yield _too_concentrated("critical", what, vein, osmolarity, _ids(other))


def _ids(other: CoInfusion) -> tuple[str, ...]:
    return (other.carried_by,) if other.carried_by else ()


def _too_concentrated(
    level: Level, what: str, vein: str, osmolarity: float, ids: tuple[str, ...] = ()
) -> Finding:
    end = "it is short, so watch the site" if level == "info" else "it burns the vein"
    return Finding(
        level,
        f"{what} by {vein}: {end}.",
        f"Osmolarity, additives counted, {number(osmolarity)} mOsm/L; it runs by {vein}.",
        figures={"osmolarity_mosm_l": osmolarity},
        limits=("osmolarity_most_mosm_l",),
        order_ids=ids,
    )


def _nutrition_of_no_osmolarity(case: Case, other: CoInfusion) -> Finding:
    vein = vein_text(case.patient, other.lumen)
    return Finding(
        "critical",
        f"Parenteral nutrition by {vein}, no osmolarity written: most bags need a central line.",
        f"“{other.name}” runs by {vein}. It is not written that it was made for a peripheral vein.",
        figures={"line": other.lumen or "peripheral"},
        order_ids=_ids(other),
    )


def fluid_irritant(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A bag that irritates a peripheral vein when it runs for long."""
    order = situation.order
    osmolarity = _osmolarity(order)
    if osmolarity is None or not _in_range(osmolarity, limits) or _has_its_own_rule(order):
        return
    if is_rescue(situation) or is_short(order, SMALL_DOSE_ML):
        return
    patient = situation.patient
    if not surely_small_vein(patient, order.lumen):
        return
    quiet = child(patient) or patient.conditions.any_of(*CRISES)
    hours = hours_to_run(order)
    ends = hours is not None and hours <= limits["short_use_h"] and order.stated_duration
    loud = osmolarity >= limits["osmolarity_loud_mosm_l"] and not (quiet or ends)
    what = f"{opening(bag_name(order))} ({number(osmolarity)} mOsm/L)"
    yield _irritant("warning" if loud else "info", what, osmolarity, ())


def nutrition_irritant(case: Case, limits: Limits) -> Iterator[Finding]:
    """Nutrition made for a peripheral vein: watch the site."""
    for other in case.co_infusions:
        osmolarity = other.osmolarity_mosm_l
        if other.kind != "nutrition" or osmolarity is None or not _in_range(osmolarity, limits):
            continue
        if surely_small_vein(case.patient, other.lumen):
            what = f"Nutrition of {number(osmolarity)} mOsm/L"
            loud = osmolarity > limits["nutrition_mosm_l"] and not child(case.patient)
            yield _irritant("warning" if loud else "info", what, osmolarity, _ids(other))


def _in_range(osmolarity: float, limits: Limits) -> bool:
    return limits["osmolarity_from_mosm_l"] < osmolarity <= limits["osmolarity_most_mosm_l"]


def _irritant(level: Level, what: str, osmolarity: float, ids: tuple[str, ...]) -> Finding:
    return Finding(
        level,
        f"{what} by a peripheral vein for hours: look at the site every few hours.",
        f"Osmolarity, additives counted, {number(osmolarity)} mOsm/L.",
        figures={"osmolarity_mosm_l": osmolarity},
        limits=("osmolarity_from_mosm_l", "osmolarity_most_mosm_l"),
        order_ids=ids,
    )


MOST: Final = Limit("osmolarity_most_mosm_l", 900, "mOsm/L", "most by a peripheral vein")

RULES: Final = (
    Rule(
        id="line-osm-peripheral",
        title="Too concentrated for a peripheral vein",
        trigger="A bag with its additives, or nutrition by the osmolarity written, above 900 "
        "mOsm/L by a peripheral vein: critical; nutrition by a peripheral vein with no osmolarity "
        "written is too, unless it says peripheral. Info for a dose of 100 mL within an hour.",
        unless="it is a rescue of at most 500 mL within an hour (seizure, raised intracranial "
        "pressure, arrest, hypoglycaemia, potassium of 6 mmol/L); strong saline and calcium salts "
        "have their own rules",
        do="Run it by a central line, or dilute it; stop it and look at the site if it has run.",
        evidence="900 mOsm/L stands in the label of 10% dextrose and in nursing standards; some "
        "bodies use 500 or 600, and nutrition guidance 850 to 900. The evidence is of low grade, "
        "so this is a setting of the hospital.",
        sources=(DEXTROSE_LABEL, NURSING, NUTRITION),
        needs=("lumen",),
        limits=(MOST,),
        levels=("critical", "info"),
        for_order=fluid_too_concentrated,
        for_patient=nutrition_too_concentrated,
    ),
    Rule(
        id="line-osm-irritant",
        title="Irritates a peripheral vein in long use",
        trigger="A bag of 600 to 900 mOsm/L by a peripheral vein: info; warning in an adult from "
        "650 mOsm/L when it runs on for more than 24 h. Nutrition is a warning above 850.",
        unless="it is a dose of 100 mL within an hour, or a rescue; in children and in "
        "ketoacidosis such bags are usual and only mentioned",
        do="Use a large vein and look at the site every few hours; consider dilution or a central "
        "line if it goes on.",
        evidence="Labels of hypertonic fluids warn of vein damage from 600 mOsm/L. 5% dextrose in "
        "0.9% sodium chloride with 20 mmol/L of potassium stands at 600 and is given daily.",
        sources=(HYPERTONIC_LABEL, NUTRITION, PRACTICE),
        limits=(
            Limit("osmolarity_from_mosm_l", 605, "mOsm/L", "from here on a vein is irritated"),
            MOST,
            Limit("osmolarity_loud_mosm_l", 650, "mOsm/L", "loud when it runs on", PRACTICE),
            Limit("nutrition_mosm_l", 850, "mOsm/L", "most for nutrition by vein", NUTRITION),
            Limit("short_use_h", 24, "h", "use that counts as short", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=fluid_irritant,
        for_patient=nutrition_irritant,
    ),
)
