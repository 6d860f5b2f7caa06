"""Citrated blood: no calcium and no glucose water in its set."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.phrases import amount_text, bag_name, infusion_name, number, opening, short
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.lines import (
    HOW,
    LEVEL,
    SHARED,
    blood_of,
    is_blood,
    place_text,
    red_cells_of,
)
from app.chemistry.composition import Composition
from app.patient.case import Case, Situation
from app.patient.order import CoInfusion
from app.patient.sharing import Sharing, closest
from app.physiology.calcium import order_brings_calcium, other_brings_calcium

LABEL: Final = Source("US lactated Ringer's injection label", "warnings", seen=True)
DEXTROSE_LABEL: Final = Source("US dextrose injection label", "warnings", seen=True)
BENCH: Final = Source("Ryden and Oberman, Transfusion 1975;15:250", "abstract", seen=True)
FLOW: Final = Source(
    "Levac et al., Can J Anaesth 2010;57:1071; Cull et al., Surg Gynecol Obstet 1991;173:9",
    "abstracts",
    seen=True,
)
CIRCULAR: Final = Source(
    "AABB Circular of Information for the Use of Human Blood and Blood Components, 2021",
    "instructions for use",
)


PLASMA_MOSM_L: Final = 285.0


def calcium_fluid_with_blood(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Calcium in the bag, and citrated blood on the line or perhaps on it."""
    near = closest(situation.case, situation.order, blood_of(situation.case))
    if near is None or near[0] not in HOW or not order_brings_calcium(situation.order):
        return
    mix = situation.order.mix
    holds = f"calcium {number(mix.calcium_mmol_l)} mmol/L" if mix else "with calcium"
    yield _calcium_finding(near, f"{opening(bag_name(situation.order))} ({holds})")


def calcium_drug_with_blood(case: Case, _: Limits) -> Iterator[Finding]:
    """A calcium drug or nutrition with calcium, and citrated blood on the line."""
    for other in case.co_infusions:
        near = closest(case, other, blood_of(case))
        if near is None or is_blood(other) or not other_brings_calcium(other):
            continue
        way, blood = near
        if way == "not known" and _given_apart_by_habit(case, other):
            way = "room"
        if way in HOW:
            yield _calcium_finding((way, blood), opening(infusion_name(other)))


def _given_apart_by_habit(case: Case, other: CoInfusion) -> bool:
    """Nutrition has its own lumen, and calcium in massive transfusion is given beside the blood."""
    return other.kind == "nutrition" or "massive_transfusion" in case.patient.conditions


def _calcium_finding(near: tuple[Sharing, CoInfusion], what: str) -> Finding:
    way, blood = near
    name = infusion_name(blood)
    return Finding(
        LEVEL[way],
        f"{what} {HOW[way]} {name}: calcium can clot it.",
        f"{place_text(way, blood)} Calcium overcomes the citrate that keeps {name} from clotting.",
        figures={"line": way},
    )


def _swells_red_cells(mix: Composition, limits: Limits) -> bool:
    tonicity = mix.tonicity_mosm_l
    low = tonicity is not None and tonicity < limits["tonicity_low_mosm_l"]
    return low or mix.sodium_mmol_l <= limits["sodium_none_mmol_l"]


def dextrose_with_red_cells(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A hypotonic or electrolyte-free fluid, and red cells on the line or perhaps on it."""
    near = closest(situation.case, situation.order, red_cells_of(situation.case))
    if near is None or near[0] not in HOW:
        return
    if _swells_red_cells(situation.mix, limits):
        yield _swelling_finding(near, opening(bag_name(situation.order)), situation.mix)


def dextrose_diluent_with_red_cells(case: Case, limits: Limits) -> Iterator[Finding]:
    """A drug in a hypotonic diluent, and red cells on the same line."""
    for other in case.co_infusions:
        near = closest(case, other, red_cells_of(case))
        if near is None or near[0] not in SHARED or other.carried_by or is_blood(other):
            continue
        if other.diluent is None:
            continue
        mix = other.diluent.composition
        if _swells_red_cells(mix, limits):
            what = f"{opening(infusion_name(other))} in {short(other.diluent.name)}"
            yield _swelling_finding(near, what, mix)


def _swelling_finding(near: tuple[Sharing, CoInfusion], what: str, mix: Composition) -> Finding:
    way, blood = near
    sodium = amount_text(mix.sodium_mmol_l, "sodium")
    strong = (mix.tonicity_mosm_l or 0) >= PLASMA_MOSM_L
    harm = "clump" if strong else "burst"
    return Finding(
        LEVEL[way],
        f"{what} ({sodium}) {HOW[way]} {infusion_name(blood)}: the cells {harm}.",
        f"{place_text(way, blood)} The fluid holds {sodium}; its tonicity is "
        f"{number(mix.tonicity_mosm_l or 0)} mOsm/L, and that of plasma about 285. Glucose is not "
        "counted: it enters the cells.",
        figures={
            "sodium_mmol_l": mix.sodium_mmol_l,
            "tonicity_mosm_l": mix.tonicity_mosm_l or 0,
            "line": way,
        },
        limits=("tonicity_low_mosm_l", "sodium_none_mmol_l"),
    )


RULES: Final = (
    Rule(
        id="blood-calcium",
        title="Calcium with citrated blood on one line",
        trigger="A fluid, additive, drug or nutrition with calcium, and red cells, platelets, "
        "plasma or cryoprecipitate on the same lumen: critical where that is told or the patient "
        "has one lumen, warning where lumens are not told and may not suffice.",
        unless="it runs on another lumen, or one after the other with a flush of 0.9% sodium "
        "chloride; in rapid transfusion local policy may accept a balanced fluid",
        do="Run 0.9% sodium chloride in the blood set; give the calcium by another lumen, or stop "
        "it and flush before the blood.",
        evidence="The label forbids one set for both. At the bench, lactated Ringer's clotted "
        "blood at four citrates to one calcium or less; slow or long contact clots, fast flow "
        "within an hour did not, so some resuscitation teams accept it.",
        sources=(LABEL, BENCH, FLOW, CIRCULAR),
        needs=("fluid",),
        levels=("critical", "warning", "info"),
        for_order=calcium_fluid_with_blood,
        for_patient=calcium_drug_with_blood,
    ),
    Rule(
        id="blood-dextrose",
        title="Hypotonic or sodium-free fluid with red cells on one line",
        trigger="A fluid or a drug's diluent under 240 mOsm/L of tonicity, or without sodium, and "
        "red cells on the same lumen: critical where that is told or the patient has one lumen, "
        "warning where lumens are not told and may not suffice.",
        unless="it runs on another lumen, or one after the other with a flush of 0.9% sodium "
        "chloride",
        do="Prime and flush the blood set with 0.9% sodium chloride only; run this by another "
        "lumen.",
        evidence="5% dextrose clumped red cells at once and burst them by 30 minutes; with 0.225% "
        "sodium chloride within 10 minutes at 37 °C; with 0.9% sodium chloride not at all.",
        sources=(BENCH, DEXTROSE_LABEL),
        needs=("fluid",),
        limits=(
            Limit("tonicity_low_mosm_l", 240, "mOsm/L", "tonicity below which red cells swell"),
            Limit("sodium_none_mmol_l", 0, "mmol/L", "sodium that counts as none"),
        ),
        levels=("critical", "warning", "info"),
        for_order=dextrose_with_red_cells,
        for_patient=dextrose_diluent_with_red_cells,
    ),
)
