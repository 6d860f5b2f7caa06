"""Calcium salts by a small vein: skin and muscle die where they leak."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import hours_text, number
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import newborn
from app.cautions.shared.veins import SHORT_H, by_small_vein, hours_to_run, surely_small_vein
from app.chemistry.composition import Composition
from app.patient.case import Case, Situation
from app.patient.order import CoInfusion

GLUCONATE_LABEL: Final = Source("US calcium gluconate injection label", "2.1", seen=True)
CHLORIDE_LABEL: Final = Source("US calcium chloride injection label", seen=False)
MINUTES_PER_HOUR: Final = 60.0
# Above any balanced fluid: a calcium salt was put in.
SALT_FROM_MMOL_L: Final = 5.0
# 10% calcium gluconate holds 232.5 mmol/L and is called 100 mg/mL; 10% chloride 680 mmol/L.
GLUCONATE_MG_PER_MMOL: Final = 430.0
CHLORIDE_MG_PER_MMOL: Final = 147.0
NEAT_MG_ML: Final = 100.0
# Chloride by a small vein is accepted where the heart is about to stop, never for a low calcium,
# which gluconate treats as well.
SAVES_THE_HEART: Final = ("cardiac_arrest", "massive_transfusion")
POTASSIUM_URGENT_MMOL_L: Final = 6.0


@dataclass(frozen=True, slots=True)
class Salt:
    """A calcium salt as given: which, mg in each mL, and over how many hours where told."""

    is_chloride: bool
    mg_ml: float
    hours: float | None
    assumed_neat: bool = False

    @property
    def name(self) -> str:
        """Calcium chloride or calcium gluconate."""
        return "calcium chloride" if self.is_chloride else "calcium gluconate"


def calcium_bag(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """An order that is, or carries, a calcium salt."""
    order = situation.order
    if order.mix is None or order.mix.calcium_mmol_l <= SALT_FROM_MMOL_L:
        return
    salt = _salt(order.mix, 1.0, hours_to_run(order))
    level = _level(situation.case, salt, limits)
    if level is not None and by_small_vein(situation.patient, order.lumen):
        yield _finding(level, salt)


def calcium_dose(case: Case, limits: Limits) -> Iterator[Finding]:
    """A calcium salt beside the fluids."""
    for other in case.co_infusions:
        salt = _salt_of_drug(other)
        if salt is None or other.carried_by or not surely_small_vein(case.patient, other.lumen):
            continue
        level = _level(case, salt, limits)
        if level is not None:
            yield _finding(level, salt)


def _salt(mix: Composition, litres: float, hours: float | None) -> Salt:
    is_chloride = mix.gluconate_mmol_l < mix.calcium_mmol_l
    weight = CHLORIDE_MG_PER_MMOL if is_chloride else GLUCONATE_MG_PER_MMOL
    return Salt(is_chloride, mix.calcium_mmol_l * weight / ML_PER_L / litres, hours)


def _salt_of_drug(other: CoInfusion) -> Salt | None:
    """A calcium drug; taken as not diluted where no volume is told."""
    if other.key not in ("calcium_gluconate", "calcium_chloride"):
        return None
    hours = other.duration_min / MINUTES_PER_HOUR if other.duration_min else None
    is_chloride = other.key == "calcium_chloride"
    if other.brings is None or not other.volume_ml:
        return Salt(is_chloride, NEAT_MG_ML, hours, assumed_neat=True)
    weight = CHLORIDE_MG_PER_MMOL if is_chloride else GLUCONATE_MG_PER_MMOL
    return Salt(is_chloride, other.brings.calcium_mmol_l * weight / other.volume_ml, hours)


def _level(case: Case, salt: Salt, limits: Limits) -> Level | None:
    saves, short = _saves_the_heart(case), salt.hours is None or salt.hours <= SHORT_H
    if salt.is_chloride:
        if saves and short:
            return None if "cardiac_arrest" in case.patient.conditions else "info"
        return "critical" if salt.mg_ml > limits["chloride_mg_ml"] else "warning"
    if newborn(case.patient) and salt.mg_ml > limits["gluconate_bolus_mg_ml"] and not saves:
        return "critical"
    due = saves or "hypocalcaemia" in case.patient.conditions
    if salt.mg_ml <= limits["gluconate_mg_ml"] or (due and short):
        return None
    if short:
        return "info"
    return "critical" if salt.mg_ml > limits["gluconate_bolus_mg_ml"] else "warning"


def _saves_the_heart(case: Case) -> bool:
    """Arrest, massive transfusion, or a potassium of 6 or more (recorded, where none is known)."""
    potassium = case.patient.value_or_none("potassium")
    if potassium is None:
        return case.patient.conditions.any_of(*SAVES_THE_HEART, "hyperkalaemia")
    urgent = potassium >= POTASSIUM_URGENT_MMOL_L
    return urgent or case.patient.conditions.any_of(*SAVES_THE_HEART)


def _finding(level: Level, salt: Salt) -> Finding:
    over = f" over {hours_text(salt.hours)}" if salt.hours else ""
    strength = f"{number(salt.mg_ml)} mg/mL"
    return Finding(
        level,
        f"{salt.name.capitalize()} {strength}{over} by a peripheral vein: skin dies where it "
        "leaks.",
        f"{salt.name.capitalize()} {strength}{over} by a peripheral vein"
        f"{'; no volume is told, so it counts as not diluted' if salt.assumed_neat else ''}.",
        figures={"salt_mg_ml": salt.mg_ml},
        limits=("chloride_mg_ml",)
        if salt.is_chloride
        else ("gluconate_mg_ml", "gluconate_bolus_mg_ml"),
    )


RULES: Final = (
    Rule(
        id="ca-extravasation",
        title="Calcium salt by a small vein",
        trigger="By a peripheral vein: calcium chloride over 20 mg/mL critical, weaker a warning; "
        "calcium gluconate over more than an hour above 50 mg/mL critical, above 20 a warning; "
        "to 28 days of age above 50 mg/mL critical however short.",
        unless="it is a dose within an hour for a potassium of 6 mmol/L or more or massive "
        "transfusion (chloride then info), or in cardiac arrest; gluconate within an hour is also "
        "left alone for a low calcium, else only mentioned",
        do="Use a central line, or calcium gluconate diluted to 5.8 to 10 mg/mL by a large vein; "
        "look at the site.",
        evidence="The label gives 10 to 50 mg/mL for a dose and 5.8 to 10 mg/mL for an infusion; "
        "ready-made bags hold 20 mg/mL and are given by vein. In arrest no line is waited for.",
        sources=(GLUCONATE_LABEL, CHLORIDE_LABEL, PRACTICE),
        needs=("lumen",),
        limits=(
            Limit("chloride_mg_ml", 20, "mg/mL", "calcium chloride that is strong", PRACTICE),
            Limit("gluconate_mg_ml", 21, "mg/mL", "gluconate as in ready-made bags"),
            Limit("gluconate_bolus_mg_ml", 50, "mg/mL", "most for a dose of gluconate"),
        ),
        levels=("critical", "warning", "info"),
        for_order=calcium_bag,
        for_patient=calcium_dose,
    ),
)
