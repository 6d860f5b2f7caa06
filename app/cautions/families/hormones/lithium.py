"""Lithium follows sodium: kept when salt is short, and it wastes water."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import amount_text, number, opening, reading_or_lack
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import is_fast
from app.cautions.shared.fluid_facts import (
    HYPERTONIC_SODIUM_MMOL_L,
    is_hypotonic,
    is_small,
    on_drug,
)
from app.patient.case import Situation

TEXT: Final = Source("UK summary of product characteristics, lithium", "4.4 and 4.5", seen=False)


def lithium_and_salt(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Fluid without salt, or with much more than the body's, in a patient on lithium."""
    order, patient, mix = situation.order, situation.patient, situation.mix
    if not on_drug(situation.case, "lithium"):
        return
    if (
        is_small(order, patient, limits["small_ml_day"])
        and mix.sodium_mmol_l < HYPERTONIC_SODIUM_MMOL_L
    ):
        return
    if is_hypotonic(mix):
        yield from _water(situation, limits)
    elif mix.sodium_mmol_l > HYPERTONIC_SODIUM_MMOL_L:
        yield _shift(situation)
    elif not is_fast(order) and mix.sodium_mmol_l:
        yield from _salt(situation, limits)


def _water(situation: Situation, limits: Limits) -> Iterator[Finding]:
    patient = situation.patient
    sodium, level = patient.value_or_none("sodium"), patient.value_or_none("lithium")
    if sodium is not None and sodium > limits["sodium_high_mmol_l"]:
        return
    toxic = level is not None and level >= limits["lithium_toxic_mmol_l"]
    salt = amount_text(situation.mix.cation_salt_mmol_l, "sodium and potassium")
    told = "" if level is None else f" (level {number(level)} mmol/L)"
    yield Finding(
        "critical" if toxic else "warning",
        f"Lithium{told} and a fluid short of salt ({salt}): the kidney then keeps lithium.",
        f"The fluid holds {salt}; {reading_or_lack(patient, 'lithium')}; "
        f"{reading_or_lack(patient, 'sodium')}.",
        figures={"fluid_salt_mmol_l": situation.mix.cation_salt_mmol_l},
        limits=("lithium_toxic_mmol_l", "sodium_high_mmol_l", "small_ml_day"),
    )


def _shift(situation: Situation) -> Finding:
    sodium = number(situation.mix.sodium_mmol_l)
    return Finding(
        "warning",
        f"Lithium and a fluid with {sodium} mmol/L of sodium: the level will shift.",
        f"Much sodium washes lithium out, and its stop lets it climb; "
        f"{reading_or_lack(situation.patient, 'lithium')}.",
        figures={"fluid_sodium_mmol_l": situation.mix.sodium_mmol_l},
    )


def _salt(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Lithium often makes the kidney waste water: salt then raises sodium further."""
    patient = situation.patient
    if "diabetes_insipidus" in patient.conditions:
        return
    sodium = patient.value_or_none("sodium")
    if sodium is None or sodium <= limits["sodium_high_mmol_l"]:
        return
    if any(other.mix is not None and is_hypotonic(other.mix) for other in situation.others):
        return
    yield Finding(
        "warning",
        f"Lithium, sodium {number(sodium)} mmol/L, and a fluid with "
        f"{number(situation.mix.sodium_mmol_l)} mmol/L of sodium.",
        f"{opening(reading_or_lack(patient, 'sodium'))}. Lithium can make the kidney waste "
        f"water; {reading_or_lack(patient, 'urine_osmolality')}.",
        figures={"sodium_mmol_l": sodium},
        limits=("sodium_high_mmol_l", "small_ml_day"),
        do="Measure urine osmolality; give free water where it is low; sodium every 6 h.",
    )


RULES: Final = (
    Rule(
        id="li-sodium",
        title="Lithium and sodium",
        trigger="Lithium and, over 500 mL in 24 h, a hypotonic fluid (critical at a level of 1.5 "
        "mmol/L or more) or, with sodium above 145 mmol/L, a fluid as salty as the body; or any "
        "fluid with over 200 mmol/L of sodium.",
        unless="sodium is above 145 mmol/L and water is meant; with saline, free water runs too",
        do="Keep sodium steady with an isotonic fluid; lithium level, sodium and creatinine within "
        "12 h; ask before the next dose.",
        evidence="The kidney takes lithium back with sodium: lacking salt and water raise the "
        "level within a day.",
        sources=(TEXT, PRACTICE),
        limits=(
            Limit("small_ml_day", 500, "mL/24 h", "a volume too small to matter", PRACTICE),
            Limit("lithium_toxic_mmol_l", 1.5, "mmol/L", "level that poisons"),
            Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that is high"),
        ),
        levels=("critical", "warning"),
        for_order=lithium_and_salt,
    ),
)
