"""Strong salt and bare water: what is not hung, or not at this sodium."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number, opening, reading
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.patient.case import Situation
from app.patient.known import NotKnown

WATER_LABEL: Final = Source("US sterile water for injection label", "warnings", seen=False)
CONCENTRATE_LABEL: Final = Source("US 23.4% sodium chloride label", "warnings", seen=False)
SALINE_MMOL_L: Final = 154.0
PRESSURE: Final = ("raised_intracranial_pressure", "brain_injury")


def hypertonic_saline_in_high_sodium(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Strong saline to a patient whose sodium is already high."""
    mix, patient = situation.mix, situation.patient
    if mix.sodium_mmol_l <= limits["fluid_sodium_mmol_l"] or _is_bicarbonate(situation):
        return
    sodium = patient.value("sodium")
    level = _level_in_high_sodium(situation, sodium, limits)
    if level is None:
        return
    yield Finding(
        level,
        f"Sodium is already {number(sodium)} mmol/L and this fluid holds "
        f"{number(mix.sodium_mmol_l)} mmol/L.",
        f"{opening(reading(patient, 'sodium'))}; fluid sodium {number(mix.sodium_mmol_l)} "
        f"mmol/L{'; brain injury or raised pressure recorded' if _pressure(situation) else ''}.",
        figures={"sodium_mmol_l": sodium, "fluid_sodium_mmol_l": mix.sodium_mmol_l},
        limits=tuple(limits),
    )


def _level_in_high_sodium(situation: Situation, sodium: float, limits: Limits) -> Level | None:
    if _pressure(situation):
        if sodium > limits["sodium_pressure_mmol_l"]:
            return "critical"
        return "info" if sodium > limits["sodium_high_mmol_l"] else None
    if sodium > limits["sodium_high_mmol_l"]:
        return "critical"
    return "warning" if sodium > limits["sodium_normal_mmol_l"] else None


def _is_bicarbonate(situation: Situation) -> bool:
    """Mostly sodium bicarbonate, of which na-bicarb-load speaks."""
    mix = situation.mix
    return mix.bicarbonate_mmol_l * 2 > mix.sodium_mmol_l


def _pressure(situation: Situation) -> bool:
    """Care of raised intracranial pressure: recorded, or an acute brain injury."""
    return situation.patient.conditions.any_of(*PRESSURE)


def concentrated_saline_as_it_is(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Saline concentrate hung or pushed undiluted."""
    order = situation.order
    strength = situation.mix.sodium_mmol_l
    if strength <= limits["fluid_sodium_mmol_l"] or _is_bicarbonate(situation):
        return
    site = _site(situation)
    within = (order.volume_ml or float("inf")) <= limits["rescue_ml"]
    if _pressure(situation) and within:
        if site is None:
            raise NotKnown("lumen", "missing", "which line it runs on is not stated")
        if site == "central":
            return
    yield Finding(
        "critical",
        f"Concentrated saline, {number(strength)} mmol/L of sodium, must not be hung as it is.",
        f"Sodium {number(strength)} mmol/L, {strength / SALINE_MMOL_L:.0f} times 0.9% saline's; "
        f"line: {site or 'not stated'}; "
        f"volume: {'not stated' if order.volume_ml is None else number(order.volume_ml) + ' mL'}.",
        figures={"fluid_sodium_mmol_l": strength},
        limits=("fluid_sodium_mmol_l", "rescue_ml"),
    )


def _site(situation: Situation) -> str | None:
    """Where it runs: the named lumen's site, or that of all access when all is alike."""
    lumen = situation.patient.lumen(situation.order.lumen)
    if lumen is not None:
        return lumen.site
    sites = {lumen.site for lumen in situation.patient.access}
    return sites.pop() if len(sites) == 1 else None


def water_alone(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Water, or near water, into a vein."""
    osmolarity = situation.mix.osmolarity_mosm_l
    if osmolarity is None or osmolarity >= limits["osmolarity_mosm_l"]:
        return
    yield Finding(
        "critical",
        f"This bag is near plain water ({number(osmolarity)} mOsm/L): it bursts red cells.",
        f"Osmolarity with additives {number(osmolarity)} mOsm/L; plasma is about 290.",
        figures={"osmolarity_mosm_l": osmolarity},
        limits=("osmolarity_mosm_l",),
    )


RULES: Final = (
    Rule(
        id="na-hypertonic-hyper",
        title="Hypertonic saline when sodium is high",
        trigger="Fluid sodium above 200 mmol/L (not bicarbonate) and sodium above 155 mmol/L; "
        "with raised intracranial pressure or acute brain injury critical above 160 and info "
        "from 156; warning above 145 without.",
        unless="a protocol for raised intracranial pressure sets a higher target",
        do="Stop it and repeat sodium now; restart only on a stated target.",
        evidence="Targets above 155 to 160 mmol/L bring kidney injury without lower pressure.",
        sources=(PRACTICE,),
        needs=("sodium",),
        limits=(
            Limit("fluid_sodium_mmol_l", 200, "mmol/L", "fluid sodium that is strong"),
            Limit("sodium_normal_mmol_l", 145, "mmol/L", "highest normal sodium"),
            Limit("sodium_high_mmol_l", 155, "mmol/L", "sodium that is too high"),
            Limit("sodium_pressure_mmol_l", 160, "mmol/L", "the same with raised pressure"),
        ),
        levels=("critical", "warning", "info"),
        for_order=hypertonic_saline_in_high_sodium,
    ),
    Rule(
        id="na-concentrate",
        title="Concentrated saline hung as it is",
        trigger="A bag, with its additives, of more than 1,100 mmol/L of sodium as chloride, "
        "unless at most 60 mL by a central line in raised intracranial pressure or brain injury.",
        unless="raised intracranial pressure, by protocol, 30 to 60 mL, central line",
        do="Do not hang; call pharmacy. 3% saline is ready for use.",
        evidence="Mistaken for weaker saline it has killed; no ward use needs it undiluted.",
        sources=(CONCENTRATE_LABEL, PRACTICE),
        needs=("lumen",),
        limits=(
            Limit("fluid_sodium_mmol_l", 1100, "mmol/L", "stronger than any bag that is hung"),
            Limit("rescue_ml", 60, "mL", "most that a pressure protocol gives"),
        ),
        levels=("critical",),
        for_order=concentrated_saline_as_it_is,
    ),
    Rule(
        id="water-alone",
        title="Sterile water must not run alone",
        trigger="Osmolarity of the bag with its additives under 150 mOsm/L.",
        unless="it is only a diluent, and what is mixed brings it to 150 mOsm/L or more",
        do="Do not hang; call pharmacy.",
        evidence="Plain water in a vein bursts red cells; 0.45% saline (154) is the weakest used.",
        sources=(WATER_LABEL,),
        limits=(Limit("osmolarity_mosm_l", 150, "mOsm/L", "weakest that may run"),),
        levels=("critical",),
        for_order=water_alone,
    ),
)
