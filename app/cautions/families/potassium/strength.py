"""Potassium in the wrong form: as a bolus, or not diluted."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.families.potassium.bedside import KCL_LABEL, KCL_RATES, PRACTICE
from app.cautions.phrases import bag_name, number, opening
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.patient.case import Situation
from app.physiology.potassium import adds_potassium, potassium_is_added, potassium_mmol_l

ALERT: Final = Source("NPSA patient safety alert on concentrated potassium, 2002", seen=True)


def potassium_bag_as_bolus(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """A bag with added potassium run fast, or written as bolus or for resuscitation."""
    order = situation.order
    fast = order.rate_ml_h is not None and order.rate_ml_h > limits["fast_ml_h"]
    marked = order.is_bolus or order.purpose == "resuscitation"
    if not (fast or marked) or not adds_potassium(order, limits["potassium_bag_mmol_l"]):
        return
    holds = f"{number(order.mix.potassium_mmol_l)} mmol/L" if order.mix else "potassium"
    how = f"at {number(order.rate_ml_h or 0)} mL/h" if fast else "as a bolus"
    yield Finding(
        "critical",
        f"A bag with added potassium ({holds}) runs {how}: never resuscitate with it.",
        f"{opening(bag_name(order))} holds {holds}; it is to run {how}"
        + (f" for {order.purpose}." if order.purpose else "."),
        figures={
            "fluid_potassium_mmol_l": order.mix.potassium_mmol_l if order.mix else holds,
            "rate_ml_h": order.rate_ml_h or 0,
        },
        limits=("potassium_bag_mmol_l", "fast_ml_h"),
    )


def concentrate_hung(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Potassium stronger than any bag made to be hung."""
    order = situation.order
    if not order.mix and not potassium_is_added(order):
        return
    potassium = potassium_mmol_l(order)
    if potassium <= limits["strongest_mmol_l"]:
        return
    undiluted = order.fluid is not None and bool(order.fluid.never_hung)
    diluted_centrally = not undiluted and situation.patient.setting == "ICU" and _central(situation)
    strength = f"{number(potassium)} mmol/L"
    yield Finding(
        "warning" if diluted_centrally else "critical",
        f"Potassium {strength} is ordered as a fluid: "
        + ("only by pump, central line and ECG." if diluted_centrally else "undiluted it kills."),
        f"{opening(bag_name(order))} holds {strength}; the strongest bag made to be hung holds "
        f"{number(limits['strongest_mmol_l'])} mmol/L.",
        figures={"fluid_potassium_mmol_l": potassium},
        limits=("strongest_mmol_l",),
    )


def _central(situation: Situation) -> bool:
    lumen = situation.patient.lumen(situation.order.lumen)
    return lumen is not None and lumen.site == "central"


RULES: Final = (
    Rule(
        id="k-bolus",
        title="Potassium bag run as a bolus",
        trigger="More than 10 mmol/L of potassium in a bag that runs over 500 mL/h, or that is "
        "written as a bolus or for resuscitation.",
        unless="the bag is a balanced fluid with nothing added",
        do="Stop it and resuscitate with a bag without added potassium; take a potassium and an "
        "ECG if it has run.",
        evidence="Fast potassium stops the heart. Premixed maintenance bags have been squeezed in "
        "by mistake for plain ones.",
        sources=(ALERT, PRACTICE),
        needs=("fluid",),
        limits=(
            Limit("potassium_bag_mmol_l", 10, "mmol/L", "potassium that was added", PRACTICE),
            Limit("fast_ml_h", 500, "mL/h", "rate of a bolus", PRACTICE),
        ),
        levels=("critical",),
        for_order=potassium_bag_as_bolus,
    ),
    Rule(
        id="k-concentrate",
        title="Potassium concentrate hung as it is",
        trigger="More than 400 mmol/L of potassium in what is to be hung: critical; a diluted "
        "syringe for a central lumen in intensive care is a warning.",
        unless="it is an additive to a larger bag and was written as the fluid by mistake",
        do="Do not hang it. Order a ready-made bag, or have pharmacy dilute it; keep concentrate "
        "off the ward.",
        evidence="Concentrate has been mistaken for saline and water, with deaths; it was taken "
        "off wards from 2002. The strongest bag made to be hung holds 400 mmol/L, for a central "
        "line.",
        sources=(ALERT, KCL_RATES, KCL_LABEL),
        limits=(Limit("strongest_mmol_l", 400, "mmol/L", "strongest bag made to be hung"),),
        levels=("critical", "warning"),
        for_order=concentrate_hung,
    ),
)
