"""How far off the prediction was: by quantity, by kind of fluid and dose, and as a label."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from app.review.trials.fluids import FluidKind, band_of
from app.review.trials.score import Point

# Bars of the project: mean distance between the change predicted and the change measured.
BARS: Final[Mapping[str, float]] = MappingProxyType(
    {
        "chloride_mmol_l": 1.5,
        "sodium_mmol_l": 1.5,
        "bicarbonate_mmol_l": 1.5,
        "base_excess_mmol_l": 1.5,
        "ph": 0.03,
        "potassium_mmol_l": 0.25,
        "haematocrit": 1.5,
        "plasma_volume_ml": 3.0,
    }
)
# Each quantity that is scored: name, unit of its change, decimals worth showing.
QUANTITIES: Final[Mapping[str, tuple[str, str, int]]] = MappingProxyType(
    {
        "chloride_mmol_l": ("chloride", "mmol/L", 1),
        "sodium_mmol_l": ("sodium", "mmol/L", 1),
        "bicarbonate_mmol_l": ("bicarbonate", "mmol/L", 1),
        "base_excess_mmol_l": ("base excess", "mmol/L", 1),
        "ph": ("pH", "", 3),
        "potassium_mmol_l": ("potassium", "mmol/L", 2),
        "haematocrit": ("haematocrit", "points", 1),
        "plasma_volume_ml": ("plasma volume", "%", 1),
        "albumin_g_l": ("albumin", "g/L", 1),
        "osmolality_mosm_kg": ("osmolality", "mOsm/kg", 1),
        "lactate_mmol_l": ("lactate", "mmol/L", 1),
    }
)
NO_TRIAL: Final = "no trial like this"


@dataclass(frozen=True, slots=True)
class Error:
    """Mean distance of some points. still: what it would be had no change been predicted."""

    points: int
    groups: int
    off: float
    still: float


def error_of(points: Sequence[Point]) -> Error | None:
    """How far off; None of no points."""
    if not points:
        return None
    size = len(points)
    return Error(
        points=size,
        groups=len({point.arm for point in points}),
        off=sum(abs(point.off) for point in points) / size,
        still=sum(abs(point.measured) for point in points) / size,
    )


def by_quantity(points: Iterable[Point]) -> dict[str, list[Point]]:
    """The points of each quantity, in the order of QUANTITIES; none is left out."""
    known = list(points)
    found = {q: [p for p in known if p.quantity == q] for q in QUANTITIES}
    return {quantity: some for quantity, some in found.items() if some}


def label_of(points: Iterable[Point], quantity: str, kind: FluidKind | None, dose: float) -> str:
    """How far off it was in groups given such a fluid and dose (in the unit of the kind).

    Rows from memory do not speak. "no trial like this" where no group was.
    """
    if kind is None:
        return NO_TRIAL
    band = band_of(kind, dose)
    like = [
        point
        for point in points
        if point.seen and (point.quantity, point.kind, point.band) == (quantity, kind, band)
    ]
    error = error_of(like)
    if error is None:
        return NO_TRIAL
    _, unit, places = QUANTITIES[quantity]
    groups = "1 published group" if error.groups == 1 else f"{error.groups} published groups"
    amount = f"{error.off:.{places}f}"
    if not float(amount):
        amount = f"under {10**-places:g}"
    off = f"{amount} {unit}".strip()
    average = " on average" if error.points > 1 else ""
    return f"In {groups} given such a fluid and dose it was off by {off}{average}."
