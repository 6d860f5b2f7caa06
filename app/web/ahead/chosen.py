"""Which few curves matter for this patient and these bags. Pure."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.chemistry.composition import Composition
from app.physiology.course.body import Subject
from app.physiology.course.loads import Load, chloride_of

SODIUM: Final = "sodium_mmol_l"
POTASSIUM: Final = "potassium_mmol_l"
CHLORIDE: Final = "chloride_mmol_l"
BICARBONATE: Final = "bicarbonate_mmol_l"
PH: Final = "ph"
GLUCOSE: Final = "glucose_mmol_l"
PLASMA: Final = "plasma_volume_ml"
# The most useful first: what does not fit is left to the whole prediction.
MOST: Final = 4
LEAST: Final = 3
# What stands where nothing else is called for.
BESIDES: Final = (POTASSIUM, CHLORIDE)
# Usual ranges of a laboratory for adults, mmol/L (pH without a unit); textbook.
POTASSIUM_USUAL: Final = (3.5, 5.0)
BICARBONATE_USUAL: Final = (22.0, 28.0)
PH_USUAL: Final = (7.35, 7.45)
GLUCOSE_USUAL: Final = (4.0, 10.0)
# From here on it stops hearts or comes near it (common practice, no source).
POTASSIUM_FAR: Final = (3.0, 6.0)
IN_IT: Final = "Drawn because it is in what runs."
OUT_OF_RANGE: Final = "Drawn because it is, or may come, out of range."
FAR: Final = "Drawn first because it is, or may come, far out of range."
INSULIN: Final = "Drawn first because insulin runs."
URGENT: Final = (INSULIN, FAR)
# What shifts a level by less than this is within the error of the prediction, mmol/L.
SHIFT_MMOL_L: Final = 1.5
# Fluid outside cells, L/kg (textbook).
ECF_L_KG: Final = 0.2
# Given to fill the circulation: at least so much within so long (common practice, no source).
BOLUS_L_KG: Final = 0.004
BOLUS_MIN: Final = 60.0


@dataclass(frozen=True, slots=True)
class Choice:
    """One quantity to draw, by its series, and why, in a sentence; empty for sodium, which always
    is, and for what only fills the row.
    """

    key: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Ahead:
    """What is to be chosen from. reach: the lowest and highest of each band that may be drawn, by
    its series. measured: names of the results that are known.
    """

    reach: Mapping[str, tuple[float, float]]
    measured: Collection[str] = ()


def chosen(subject: Subject, loads: Sequence[Load], ahead: Ahead) -> tuple[Choice, ...]:
    """Three or four quantities for what runs into this person: what may harm soonest first.

    loads: of every bag that is tried and of what else is counted. A pH without a bicarbonate is
    drawn as it is.
    """
    called_for = [one for one in _called_for(subject, loads, ahead) if one.key in ahead.reach]
    urgent = [one for one in called_for if one.why in URGENT]
    first = [*urgent, *(one for one in called_for if one not in urgent)][:MOST]
    keys = {one.key for one in first}
    fill = [Choice(key) for key in BESIDES if key not in keys and key in ahead.reach]
    return (*first, *fill[: max(0, LEAST - len(first))])


def _called_for(subject: Subject, loads: Sequence[Load], ahead: Ahead) -> Iterator[Choice]:
    insulin = any(load.insulin_units for load in loads)
    whys = (
        (POTASSIUM, _why_potassium(subject, loads, ahead, insulin=insulin)),
        (GLUCOSE, INSULIN if insulin else ""),
        (_acid_base(ahead.measured), _why_acid_base(subject, loads)),
        (GLUCOSE, "" if insulin else _why_glucose(loads, ahead)),
        (PLASMA, _why_plasma(subject, loads)),
        (CHLORIDE, _why_chloride(subject, loads)),
    )
    yield Choice(SODIUM)
    yield from (Choice(key, why) for key, why in whys if why)


def _acid_base(measured: Collection[str]) -> str:
    return PH if "ph" in measured and "bicarbonate" not in measured else BICARBONATE


def _why_potassium(subject: Subject, loads: Sequence[Load], ahead: Ahead, *, insulin: bool) -> str:
    if insulin:
        return INSULIN
    if out := _out(ahead.reach.get(POTASSIUM), POTASSIUM_FAR):
        return out
    if subject.kidneys_fail:
        return "Drawn because kidneys are on record as failing."
    if out := _out(ahead.reach.get(POTASSIUM), POTASSIUM_USUAL):
        return out
    return IN_IT if any(load.composition.potassium_mmol_l for load in loads) else ""


def _out(reach: tuple[float, float] | None, usual: tuple[float, float]) -> str:
    """Which way a band leaves a range; empty where it does not."""
    if reach is None or not (_is_off(reach[0], usual) or _is_off(reach[1], usual)):
        return ""
    return FAR if usual == POTASSIUM_FAR else OUT_OF_RANGE


def _why_acid_base(subject: Subject, loads: Sequence[Load]) -> str:
    off = _is_off(subject.bicarbonate_mmol_l, BICARBONATE_USUAL)
    if off or _is_off(subject.ph, PH_USUAL):
        return "Drawn because acid-base is out of range."
    pulled = (_pulls(load, _strong_ions(load.composition), subject) for load in loads)
    return (
        "Drawn because the fluid moves it."
        if max(map(abs, pulled), default=0.0) >= SHIFT_MMOL_L
        else ""
    )


def _why_glucose(loads: Sequence[Load], ahead: Ahead) -> str:
    if out := _out(ahead.reach.get(GLUCOSE), GLUCOSE_USUAL):
        return out
    return IN_IT if any(load.composition.glucose_g_l for load in loads) else ""


def _why_plasma(subject: Subject, loads: Sequence[Load]) -> str:
    if any(_is_colloid(load.composition) for load in loads):
        return "Drawn because the fluid is a colloid."
    least_l = BOLUS_L_KG * subject.weight_kg
    fast = (load for load in loads if load.duration_min <= BOLUS_MIN)
    return (
        "Drawn because it is given fast." if any(load.volume_l >= least_l for load in fast) else ""
    )


def _why_chloride(subject: Subject, loads: Sequence[Load]) -> str:
    start = subject.chloride_mmol_l
    raised = (_shift(load, chloride_of(load.composition) - start, subject) for load in loads)
    return (
        "Drawn because the fluid brings much of it."
        if max(raised, default=0.0) >= SHIFT_MMOL_L
        else ""
    )


def _pulls(load: Load, strong_ions: float, subject: Subject) -> float:
    """How far bicarbonate goes towards the fluid's strong ion difference, mmol/L."""
    return _shift(load, strong_ions - subject.bicarbonate_mmol_l, subject)


def _shift(load: Load, difference: float, subject: Subject) -> float:
    """A difference in the fluid, spread through what is outside cells, mmol/L."""
    return difference * load.volume_l / (ECF_L_KG * subject.weight_kg + load.volume_l)


def _strong_ions(fluid: Composition) -> float:
    """Its strong ion difference, mEq/L, once what is organic is used."""
    return fluid.cations_meq_l - chloride_of(fluid) - 2 * fluid.sulfate_mmol_l


def _is_colloid(fluid: Composition) -> bool:
    return bool(fluid.albumin_g_l or fluid.starch_g_l or fluid.gelatin_g_l)


def _is_off(value: float, usual: tuple[float, float]) -> bool:
    low, high = usual
    return not low <= value <= high
