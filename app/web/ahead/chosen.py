"""Which few curves matter for this patient and these bags. Pure."""

from collections.abc import Collection, Iterator, Sequence
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
IN_IT: Final = "It is in what runs."
OUT_OF_RANGE: Final = "It is out of range."
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


def chosen(
    subject: Subject, loads: Sequence[Load], measured: Collection[str] = ()
) -> tuple[Choice, ...]:
    """Three or four quantities, sodium first, for what runs into this person.

    loads: of every bag that is tried and of what else is counted. measured: names of the results
    that are known; a pH without a bicarbonate is drawn as it is.
    """
    called_for = list(_called_for(subject, loads, measured))[:MOST]
    keys = {one.key for one in called_for}
    fill = [Choice(key) for key in BESIDES if key not in keys]
    return (*called_for, *fill[: max(0, LEAST - len(called_for))])


def _called_for(
    subject: Subject, loads: Sequence[Load], measured: Collection[str]
) -> Iterator[Choice]:
    whys = (
        (POTASSIUM, _why_potassium(subject, loads)),
        (_acid_base(measured), _why_acid_base(subject, loads)),
        (GLUCOSE, _why_glucose(subject, loads)),
        (PLASMA, _why_plasma(subject, loads)),
        (CHLORIDE, _why_chloride(subject, loads)),
    )
    yield Choice(SODIUM)
    yield from (Choice(key, why) for key, why in whys if why)


def _acid_base(measured: Collection[str]) -> str:
    return PH if "ph" in measured and "bicarbonate" not in measured else BICARBONATE


def _why_potassium(subject: Subject, loads: Sequence[Load]) -> str:
    if _is_off(subject.potassium_mmol_l, POTASSIUM_USUAL):
        return OUT_OF_RANGE
    if subject.kidneys_fail:
        return "Kidneys are on record as failing."
    return IN_IT if any(load.composition.potassium_mmol_l for load in loads) else ""


def _why_acid_base(subject: Subject, loads: Sequence[Load]) -> str:
    off = _is_off(subject.bicarbonate_mmol_l, BICARBONATE_USUAL)
    if off or _is_off(subject.ph, PH_USUAL):
        return "Acid and base are off."
    pulled = (_pulls(load, _strong_ions(load.composition), subject) for load in loads)
    return "The fluid moves it." if max(map(abs, pulled), default=0.0) >= SHIFT_MMOL_L else ""


def _why_glucose(subject: Subject, loads: Sequence[Load]) -> str:
    if _is_off(subject.glucose_mmol_l, GLUCOSE_USUAL):
        return OUT_OF_RANGE
    return IN_IT if any(load.composition.glucose_g_l for load in loads) else ""


def _why_plasma(subject: Subject, loads: Sequence[Load]) -> str:
    if any(_is_colloid(load.composition) for load in loads):
        return "The fluid is a colloid."
    least_l = BOLUS_L_KG * subject.weight_kg
    fast = (load for load in loads if load.duration_min <= BOLUS_MIN)
    return "It is given fast." if any(load.volume_l >= least_l for load in fast) else ""


def _why_chloride(subject: Subject, loads: Sequence[Load]) -> str:
    start = subject.chloride_mmol_l
    raised = (_shift(load, chloride_of(load.composition) - start, subject) for load in loads)
    return "The fluid brings much of it." if max(raised, default=0.0) >= SHIFT_MMOL_L else ""


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
