"""Potassium: given where it is high, where it cannot be excreted, or too fast."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.patient.case import Situation

KCL_LABEL: Final = Source("US potassium chloride injection label", "contraindications", seen=False)


def potassium_fluid_in_hyperkalaemia(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Potassium above a balanced fluid's, in a patient whose potassium is high."""
    in_bag = situation.mix.potassium_mmol_l
    if in_bag <= limits["potassium_balanced_mmol_l"]:
        return
    result = situation.patient.result("potassium")
    potassium = situation.patient.value("potassium")
    if potassium < limits["potassium_high_mmol_l"]:
        return
    per_hour = situation.order.per_hour(in_bag)
    gives = f"{in_bag:g} mmol/L" if per_hour is None else f"{per_hour:.3g} mmol/h"
    yield Finding(
        "critical",
        f"Potassium {potassium:g} mmol/L and this bag gives {gives} more.",
        f"Potassium {potassium:g} mmol/L, {situation.patient.age_text(result)} old; "
        f"the bag holds {in_bag:g} mmol/L.",
        figures={"potassium_mmol_l": potassium, "fluid_potassium_mmol_l": in_bag},
        limits=("potassium_high_mmol_l",),
    )


RULES: Final = (
    Rule(
        id="k-hyper",
        title="Potassium added in hyperkalaemia",
        trigger="Plasma potassium at or above 5.5 mmol/L and more than 5.5 mmol/L in the bag.",
        unless="the result is from a haemolysed sample and a repeat is normal",
        do="Stop the potassium source and tell the prescriber; treat by local policy.",
        evidence="The 4 to 5 mmol/L of a balanced fluid is not the hazard: see k-balanced-info.",
        sources=(KCL_LABEL,),
        needs=("potassium",),
        limits=(
            Limit("potassium_high_mmol_l", 5.5, "mmol/L", "plasma potassium that is high"),
            Limit("potassium_balanced_mmol_l", 5.5, "mmol/L", "most that a balanced fluid holds"),
        ),
        for_order=potassium_fluid_in_hyperkalaemia,
    ),
)
