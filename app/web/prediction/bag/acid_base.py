"""Which way for acid-base: both teachings in a sentence each, and what the model makes of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np

from app.catalogue.fluid import ML_PER_L
from app.cautions.phrases import listed
from app.chemistry.composition import Composition
from app.physiology.acid_base_ways import (
    Direction,
    Way,
    by_bicarbonate,
    by_strong_ions,
    direction_of,
    disagree,
    why_they_differ,
)
from app.physiology.course.body import Subject
from app.physiology.course.course import Course
from app.physiology.course.parameters import PARAMETERS
from app.web.prediction.asked import Bag
from app.web.show import duration, number, signed

GLUCONATE: Final = "Part of gluconate leaves unused, so both teachings say too much."
ORGANIC: Final = ("lactate", "acetate", "gluconate", "malate", "citrate")
GOES: Final[dict[Direction, str]] = {
    "up": "bicarbonate and pH go up", "down": "bicarbonate and pH go down",
    "hardly": "too little to see",
}  # fmt: skip
MODEL_DIFFERS: Final = (
    "It says otherwise than the teachings: it counts cells as buffers, what is diluted besides, "
    "and what kidneys pass."
)


@dataclass(frozen=True, slots=True)
class AcidBase:
    """One bag. line: all of it in one sentence, as the model has it. differ: said where the
    teachings disagree, and why. notes: what slows or limits.
    """

    mark: str
    line: str
    strong: str
    bicarbonate: str
    differ: str
    model: str
    notes: tuple[str, ...]


def acid_base_words(
    bag: Bag, volume_ml: float, minutes: float, subject: Subject, course: Course
) -> AcidBase:
    """Both teachings for the bag, and the model at the end of it or as far as is looked ahead."""
    mix, litres = bag.mix(volume_ml), volume_ml / ML_PER_L
    space_l = PARAMETERS["ecf_share"].mid * subject.water_l
    base = subject.bicarbonate_mmol_l
    strong = by_strong_ions(mix, volume_l=litres, bicarbonate_mmol_l=base, space_l=space_l)
    plain = by_bicarbonate(mix, volume_l=litres, bicarbonate_mmol_l=base, space_l=space_l)
    at = min(minutes, course.times_min[-1])
    moved = moved_at(course, "bicarbonate_mmol_l", at)
    odd = (
        not _why_not(course, at)
        and strong is not None
        and strong.direction == plain.direction != direction_of(moved)
    )
    return AcidBase(
        mark=bag.mark,
        line=_line(course, at),
        strong=_strong_words(strong, mix, base),
        bicarbonate=_bicarbonate_words(plain, litres, base),
        differ=_differ_words(mix) if disagree(strong, plain) else "",
        model=f"{_model_words(course, at)}{f' {MODEL_DIFFERS}' if odd else ''}",
        notes=tuple(_notes(mix, subject)),
    )


def _strong_words(way: Way | None, mix: Composition, base: float) -> str:
    if way is None:
        return "Not told: chloride is not on the label."
    where = "level with"
    if round(way.per_litre_mmol - base, 1):
        where = "above" if way.per_litre_mmol > base else "under"
    used = _organic(mix)
    once = f", once {listed(used)} {_are(used)} used," if used else ""
    return (
        f"The bag's strong ion difference{once} is {number(way.per_litre_mmol)} mEq/L, {where} "
        f"this patient's bicarbonate of {number(base)}: {GOES[way.direction]}."
    )


def _bicarbonate_words(way: Way, litres: float, base: float) -> str:
    return (
        f"{number(litres, 2)} L needs {number(way.needed_mmol)} mmol to hold bicarbonate at "
        f"{number(base)}, and brings {number(way.brought_mmol)} mmol of it or of what becomes it: "
        f"{GOES[way.direction]}."
    )


def _differ_words(mix: Composition) -> str:
    why = "; ".join(why_they_differ(mix)) or "the figures lie close to this patient's bicarbonate"
    return f"The two teachings disagree: {why}."


def _line(course: Course, at: float) -> str:
    """What bicarbonate does, with its band: "Bicarbonate about 1 lower (−1.7 to +0.2) at 4 h."."""
    why = _why_not(course, at)
    if why:
        return f"Bicarbonate is not predicted: {why}."
    moved = moved_at(course, "bicarbonate_mmol_l", at)
    low, high = sorted(moved_at(course, "bicarbonate_mmol_l", at, side) for side in ("low", "high"))
    band = f"({_ends(low)} to {_ends(high)} mmol/L) at {_when(at)}"
    if not round(moved, 1):
        return f"Bicarbonate about as it is {band}."
    return f"Bicarbonate about {number(abs(moved))} {'lower' if moved < 0 else 'higher'} {band}."


def _why_not(course: Course, at: float) -> str:
    """Why bicarbonate is not told at a minute; empty where it is."""
    kept = (one for one in course.withheld if one.series == "bicarbonate_mmol_l")
    return next((one.why for one in kept if one.from_min <= at), "")


def _when(at: float) -> str:
    return duration(timedelta(minutes=round(at)))


def _model_words(course: Course, at: float) -> str:
    why = _why_not(course, at)
    if why:
        return f"It says nothing of bicarbonate and pH: {why}."
    sides = ("low", "high")
    low, high = sorted(moved_at(course, "bicarbonate_mmol_l", at, side) for side in sides)
    when = _when(at)
    bicarbonate = _change("bicarbonate", moved_at(course, "bicarbonate_mmol_l", at), "mmol/L")
    ph = _change("pH", moved_at(course, "ph", at), "", 2)
    excess = _change("base excess", moved_at(course, "base_excess_mmol_l", at), "")
    return f"At {when} {bicarbonate} ({_ends(low)} to {_ends(high)}), {ph}, {excess}."


def moved_at(course: Course, key: str, at: float, side: str = "mid") -> float:
    """How far a series has moved at a minute, by a straight line between its steps.

    side: "mid", "low" or "high".
    """
    band = course.series[key]
    return float(np.interp(at, course.times_min, getattr(band, side))) - float(band.mid[0])


def _change(name: str, change: float, unit: str, places: int = 1) -> str:
    if not round(change, places):
        return f"{name} as it is"
    return f"{name} {signed(change, places)} {unit}".rstrip()


def _ends(change: float) -> str:
    return signed(change) if round(change, 1) else "0"


def _notes(mix: Composition, subject: Subject) -> Iterator[str]:
    used = _organic(mix)
    slowed = tuple(word for word, so in _slowing(subject) if so)
    if used and slowed:
        until = f"Until {listed(used)} {_are(used)} used the bag pulls down"
        yield f"{until}; {listed(slowed)} {'slow' if len(slowed) > 1 else 'slows'} that."
    if mix.gluconate_mmol_l:
        yield GLUCONATE


def _organic(mix: Composition) -> tuple[str, ...]:
    return tuple(name for name in ORGANIC if mix.ion_mmol_l(name))


def _slowing(subject: Subject) -> tuple[tuple[str, bool], ...]:
    return ("shock", subject.shock), ("the failing liver", subject.liver_fails)


def _are(names: tuple[str, ...]) -> str:
    return "are" if len(names) > 1 else "is"
