"""An additive that turns a plain bag into strong salt."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import HYPERTONIC_ABOVE_MOSM_L
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import amount_text, bag_name, listed, number, opening
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.fluid_facts import mentions
from app.patient.case import Situation

WORKED: Final = Source("Worked out from composition; see the glossary on tonicity")
# Strong salt is then what is meant.
MEANT: Final = (
    "raised_intracranial_pressure", "severe_hyponatraemia_symptoms", "acute_hyponatraemia",
)  # fmt: skip
MEANT_WORDS: Final = ("hypertonic", "intracranial", "icp", "hyponat")


def bag_made_hypertonic(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Sodium salts added until the bag is strong salt, potassium left out of the count."""
    order, mix = situation.order, situation.order.mix
    if order.fluid is None or mix is None or not order.additives:
        return
    base, now = order.fluid.composition.tonicity_mosm_l, mix.tonicity_mosm_l
    if base is None or now is None or base >= HYPERTONIC_ABOVE_MOSM_L:
        return
    # Each potassium comes with one anion and moves into cells with its water.
    salt = now - 2 * (mix.potassium_mmol_l - order.fluid.composition.potassium_mmol_l)
    adds_sodium = mix.sodium_mmol_l > order.fluid.composition.sodium_mmol_l
    if salt <= limits["tonicity_mosm_l"] or not adds_sodium or _is_small(situation, limits):
        return
    meant = situation.patient.conditions.any_of(*MEANT) or mentions(order, *MEANT_WORDS)
    yield Finding(
        "info" if meant else "warning",
        f"{opening(bag_name(order))} with what is added holds {number(mix.sodium_mmol_l)} mmol/L "
        "of sodium: confirm that it is meant.",
        f"{opening(bag_name(order))} with {listed(tuple(a.as_written for a in order.additives))}: "
        f"{amount_text(mix.sodium_mmol_l, 'sodium')}, "
        f"{amount_text(mix.potassium_mmol_l, 'potassium')}, tonicity {number(now)} mOsm/L. The "
        "volume of the additive is left out, so this is an estimate.",
        figures={"fluid_sodium_mmol_l": mix.sodium_mmol_l, "tonicity_mosm_l": now},
        limits=("tonicity_mosm_l", "small_ml"),
    )


def _is_small(situation: Situation, limits: Limits) -> bool:
    volume = situation.order.volume_ml
    return volume is not None and volume <= limits["small_ml"]


RULES: Final = (
    Rule(
        id="add-hypertonic",
        title="Additive makes the bag strong salt",
        trigger="Sodium salts added to a bag that is not hypertonic bring its tonicity, added "
        "potassium left out, above 360 mOsm/L (sodium about 180 mmol/L): warning, or info where "
        "strong salt is meant.",
        unless="it is a dose of 250 mL or less; 150 mmol of bicarbonate in a litre of 5% dextrose "
        "stays near isotonic, and potassium added to saline does not count",
        do="Confirm that it is meant; use 5% dextrose as the base for bicarbonate.",
        evidence="150 mmol of bicarbonate in 1 L of 0.9% sodium chloride holds 304 mmol/L of "
        "sodium, in 5% dextrose 150.",
        sources=(WORKED, PRACTICE),
        limits=(
            Limit("tonicity_mosm_l", 360, "mOsm/L", "tonicity that is strong", PRACTICE),
            Limit("small_ml", 250, "mL", "a dose, not a bag", PRACTICE),
        ),
        levels=("warning", "info"),
        for_order=bag_made_hypertonic,
    ),
)
