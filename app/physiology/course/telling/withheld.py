"""Series that must not be drawn from a time on: nobody lives there, or the model does not know."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.physiology.course.bands import Band
from app.physiology.course.body import Subject

NOBODY: Final = "past this nobody lives long"
KETONES: Final = "ketones clear with insulin and are not counted"
LOW_GLUCOSE: Final = "a low glucose has no value to come to rest at; measure again in 15 min"
GAS: Final = ("ph", "bicarbonate_mmol_l", "base_excess_mmol_l")
IN_PLASMA: Final = ("plasma_volume_ml", "haematocrit", "albumin_g_l")
PLASMA: Final = IN_PLASMA[0]
# Least and most that is lived with, by series, and what goes with it (common practice, no source).
LIVED_WITH: Final[Mapping[str, tuple[float, float, tuple[str, ...]]]] = {
    "potassium_mmol_l": (0.0, 8.0, ("potassium_mmol_l",)),
    "sodium_mmol_l": (100.0, 180.0, ("sodium_mmol_l",)),
    "haematocrit": (12.0, 100.0, ("haematocrit",)),
    "ph": (6.8, 7.8, GAS),
}
LEAST_OF_PLASMA: Final = 0.5
LOW_GLUCOSE_MMOL_L: Final = 4.0
LOW_GLUCOSE_MIN: Final = 60.0
KETOACIDOSIS: Final = "diabetic_ketoacidosis"
# A start past a limit is lived with so far: then from when it goes further than this beyond.
FURTHER: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Withheld:
    """A series that must not be drawn from a time on, and why."""

    series: str
    from_min: float
    why: str


def withheld_of(
    subject: Subject, times_min: Sequence[float], bands: Mapping[str, Band]
) -> tuple[Withheld, ...]:
    """Each series at most once, from the earliest time at which it is withheld."""
    earliest: dict[str, Withheld] = {}
    for one in (*_by_condition(subject), *_past_life(times_min, bands)):
        known = earliest.get(one.series)
        if known is None or one.from_min < known.from_min:
            earliest[one.series] = one
    return tuple(earliest.values())


def _by_condition(subject: Subject) -> Iterator[Withheld]:
    if KETOACIDOSIS in subject.conditions:
        yield from (Withheld(name, 0.0, KETONES) for name in GAS)
    if subject.glucose_mmol_l < LOW_GLUCOSE_MMOL_L:
        yield Withheld("glucose_mmol_l", LOW_GLUCOSE_MIN, LOW_GLUCOSE)


def _past_life(times_min: Sequence[float], bands: Mapping[str, Band]) -> Iterator[Withheld]:
    plasma = bands[PLASMA].mid[0]
    limits = {**LIVED_WITH, PLASMA: (LEAST_OF_PLASMA * plasma, float("inf"), IN_PLASMA)}
    for name, (least, most, along) in limits.items():
        mid = bands[name].mid
        low, high = min(least, mid[0]) - FURTHER, max(most, mid[0]) + FURTHER
        past = next(
            (at for at, v in zip(times_min, mid, strict=True) if not low <= v <= high), None
        )
        if past is not None:
            yield from (Withheld(other, past, NOBODY) for other in along)
