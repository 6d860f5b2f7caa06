"""What else may run in a blood set, and calcium lost to a massive transfusion."""

from collections.abc import Iterator
from datetime import timedelta
from math import isclose
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.source import NO_SOURCE, Source
from app.cautions.phrases import (
    bag_with_additives,
    infusion_name,
    listed,
    number,
    opening,
    reading_or_lack,
)
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.lines import HOW, SHARED, blood_of, is_blood, place_text, red_cells_of
from app.chemistry.composition import Composition
from app.patient.case import Case, Situation
from app.patient.order import CoInfusion, Order
from app.patient.sharing import Sharing, closest, sharing
from app.physiology.calcium import order_brings_calcium, other_brings_calcium

CIRCULAR: Final = Source(
    "AABB Circular of Information for the Use of Human Blood and Blood Components, 2021",
    "instructions for use",
)
BSH: Final = Source("BSH guideline on the administration of blood components, 2017")
TYPE_1_LABEL: Final = Source(
    "Label of multiple electrolytes injection, type 1, pH 7.4",
    "sentence seen in a veterinary label of the same composition",
    seen=True,
)
TRAUMA: Final = Source("European guideline on bleeding after trauma, 6th edition, 2023")
PRACTICE: Final = Source(NO_SOURCE)

MINUTES_PER_HOUR: Final = 60.0
NEUTRAL_PH: Final = 7.4
BLEEDING: Final = ("haemorrhage", "trauma", "shock")
COUNTED: Final = ("red_cells", "plasma", "whole_blood")


def fluid_in_the_blood_set(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A fluid other than plain 0.9% sodium chloride on the blood's line."""
    case, order = situation.case, situation.order
    near = closest(case, order, blood_of(case))
    if near is None or near[0] not in (*SHARED, "not known"):
        return
    if _is_plain_saline(situation.mix, limits) or _is_albumin(situation.mix, limits):
        return
    way, blood = near
    weaker = order_brings_calcium(order) or _harms_red_cells(case, order, situation.mix, limits)
    if weaker and way == "not known":
        return
    allowed = weaker or way == "not known" or _may_be_allowed(order.fluid, order)
    yield Finding(
        "info" if allowed else "warning",
        f"{opening(bag_with_additives(order))} {HOW[way]} {infusion_name(blood)}: {_rule(order)}.",
        f"{place_text(way, blood)} {_what_it_is(order)}",
        figures={"line": way},
    )


def _is_plain_saline(mix: Composition, limits: Limits) -> bool:
    plain = limits["saline_low_mmol_l"] <= mix.sodium_mmol_l <= limits["saline_high_mmol_l"]
    salt = mix.sodium_mmol_l + (mix.chloride_mmol_l or 0.0)
    nothing_else = mix.osmolarity_mosm_l is not None and isclose(mix.osmolarity_mosm_l, salt)
    return plain and mix.sodium_mmol_l == mix.chloride_mmol_l and nothing_else


def _is_albumin(mix: Composition, limits: Limits) -> bool:
    return 0 < mix.albumin_g_l <= limits["albumin_most_g_l"]


def _harms_red_cells(case: Case, order: Order, mix: Composition, limits: Limits) -> bool:
    """blood-dextrose then says it louder."""
    if not any(sharing(case, order, blood) in SHARED for blood in red_cells_of(case)):
        return False
    tonicity = mix.tonicity_mosm_l
    return mix.sodium_mmol_l == 0 or (
        tonicity is not None and tonicity < limits["tonicity_low_mosm_l"]
    )


def _may_be_allowed(fluid: Fluid | None, order: Order) -> bool:
    """A calcium-free buffered fluid of blood's own pH with nothing added."""
    if fluid is None or order.additives or not fluid.is_buffered:
        return False
    return fluid.ph.typical == NEUTRAL_PH and not fluid.composition.glucose_g_l


def _rule(order: Order) -> str:
    if _may_be_allowed(order.fluid, order):
        return "ask whether transfusion policy allows it"
    return "only plain 0.9% sodium chloride may"


def _what_it_is(order: Order) -> str:
    if _may_be_allowed(order.fluid, order):
        return "It is free of calcium, isotonic and of pH 7.4: some transfusion policies allow it."
    if order.additives:
        added = tuple(additive.substance.replace("_", " ") for additive in order.additives)
        return f"It has {listed(added)} added."
    return "By default only 0.9% sodium chloride runs with blood."


def drug_in_the_blood_set(case: Case, limits: Limits) -> Iterator[Finding]:
    """Drugs on the line of a blood component: one finding for each component."""
    for blood in blood_of(case):
        on_line = [(d, sharing(case, d, blood)) for d in case.co_infusions if _is_drug(d, limits)]
        shared = [(drug, way) for drug, way in on_line if way in SHARED]
        if not shared:
            continue
        names = tuple(infusion_name(drug) for drug, _ in shared[:2])
        way: Sharing = "together" if any(way == "together" for _, way in shared) else "one lumen"
        yield Finding(
            _level_of(shared),
            f"{opening(listed(names))} on the line of {infusion_name(blood)}: no drug runs with "
            "blood.",
            f"{place_text(way, blood)} A drug in the blood set can clot or burst cells, and a "
            "reaction could then be laid to either.",
            figures={"line": way, "drugs": len(shared)},
        )


def _is_drug(other: CoInfusion, limits: Limits) -> bool:
    if is_blood(other) or other.key == "albumin" or other_brings_calcium(other):
        return False
    fluid = other.diluent
    if fluid is None or fluid.id != other.key:
        return True
    mix = fluid.composition
    return not (_is_plain_saline(mix, limits) or _is_albumin(mix, limits))


def _level_of(shared: list[tuple[CoInfusion, Sharing]]) -> Level:
    """A single lumen and a timed drug is a matter of order; a running drug or one lumen named
    for both is not."""
    loud = any(way == "together" or drug.rate_ml_h for drug, way in shared)
    return "warning" if loud else "info"


def calcium_in_massive_transfusion(case: Case, limits: Limits) -> Iterator[Finding]:
    """Much blood at once and no fresh ionised calcium, or one that is low while blood runs."""
    patient = case.patient
    running = blood_of(case)
    if not running:
        return
    calcium = patient.value_or_none("calcium_ionised")
    low = calcium is not None and calcium < limits["calcium_low_mmol_l"]
    massive = _is_massive(case, running, limits)
    if not low and (not massive or _measured_within(case, limits["measured_within_h"])):
        return
    has = reading_or_lack(patient, "calcium_ionised")
    replaced = any("calcium" in other.contents for other in case.co_infusions)
    yield Finding(
        "info" if low and replaced else "warning",
        f"{_how_much(running, massive)} and {has}: citrate takes calcium out of the blood.",
        f"{opening(has)}; {listed(tuple(b.name for b in running))}."
        + (" Calcium is being given: measure again." if replaced else ""),
        figures={"calcium_ionised_mmol_l": calcium if calcium is not None else "none"},
        limits=("calcium_low_mmol_l",) if calcium is not None else (),
    )


def _is_massive(case: Case, running: tuple[CoInfusion, ...], limits: Limits) -> bool:
    if "massive_transfusion" in case.patient.conditions:
        return True
    counted = [blood for blood in running if blood.key in COUNTED]
    bleeding = case.patient.conditions.any_of(*BLEEDING)
    per_hour = sum(_units_per_hour(blood, bleeding) for blood in counted)
    return per_hour >= limits["units_per_hour"]


def _units_per_hour(blood: CoInfusion, bleeding: bool) -> float:
    """Units each hour; all at once when a bleeding patient's units have no time beside them."""
    units = blood.units or 0.0
    if blood.duration_min:
        return units * MINUTES_PER_HOUR / max(blood.duration_min, MINUTES_PER_HOUR)
    return units if bleeding else 0.0


def _measured_within(case: Case, hours: float) -> bool:
    results = case.patient.results.get("calcium_ionised", ())
    age = results[0].age(case.now) if results and results[0].value is not None else None
    return age is not None and age <= timedelta(hours=hours)


def _how_much(running: tuple[CoInfusion, ...], massive: bool) -> str:
    units = sum(blood.units or 0.0 for blood in running)
    if units:
        return f"{number(units)} units of blood"
    return "Massive transfusion" if massive else "Blood runs"


RULES: Final = (
    Rule(
        id="blood-nonsaline",
        title="Something other than 0.9% sodium chloride in the blood set",
        trigger="A fluid or drug that is not plain 0.9% sodium chloride on the lumen of a blood "
        "component; info where calcium or low tonicity is the louder reason.",
        unless="it is plasma of the right group, 4% or 5% albumin, or a fluid that the label and "
        "local transfusion policy allow",
        do="Change the fluid to 0.9% sodium chloride, or move it; stop a drug and flush, or give "
        "it by another lumen.",
        evidence="A rule of practice: 5% dextrose in 0.9% sodium chloride did not burst cells at "
        "the bench, yet is not allowed. The calcium-free acetate-gluconate fluid of pH 7.4 is "
        "labelled for it in places, so it is only mentioned.",
        sources=(CIRCULAR, BSH, TYPE_1_LABEL),
        needs=("fluid",),
        limits=(
            Limit("saline_low_mmol_l", 150, "mmol/L", "least sodium of plain saline"),
            Limit("saline_high_mmol_l", 156, "mmol/L", "most sodium of plain saline"),
            Limit("albumin_most_g_l", 50, "g/L", "strongest albumin that may run with blood"),
            Limit("tonicity_low_mosm_l", 240, "mOsm/L", "lower ones are louder as blood-dextrose"),
        ),
        levels=("warning", "info"),
        for_order=fluid_in_the_blood_set,
        for_patient=drug_in_the_blood_set,
    ),
    Rule(
        id="blood-ca-massive",
        title="Massive transfusion: ionised calcium",
        trigger="Massive transfusion, or at least 4 units of red cells or plasma in an hour, with "
        "no ionised calcium in the last hour; or blood running with ionised calcium under 1 "
        "mmol/L.",
        unless="ionised calcium was at least 1 mmol/L within the hour",
        do="Measure ionised calcium now and every 30 to 60 minutes; replace calcium by another "
        "lumen than the blood.",
        evidence="Each unit brings citrate that binds calcium, the more so with a cold or failing "
        "liver. Trauma guidelines keep ionised calcium in the normal range; 0.9 to 1 mmol/L is "
        "the least accepted.",
        sources=(TRAUMA,),
        limits=(
            Limit("calcium_low_mmol_l", 1, "mmol/L", "ionised calcium that is low in bleeding"),
            Limit("units_per_hour", 4, "units/h", "red cells and plasma that count as massive"),
            Limit("measured_within_h", 1, "h", "age of a fresh ionised calcium", PRACTICE),
        ),
        levels=("warning", "info"),
        for_patient=calcium_in_massive_transfusion,
    ),
)
