"""How far off the prediction was: by quantity, and by kind of fluid and dose."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from app.review.trials.score import Point

# Bars of the project: mean distance between the change predicted and the change measured.
# Albumin: a bar for small models of this kind, set with the reference rows.
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
        "albumin_g_l": 2.0,
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
# A mean to one side counts as a side when it is at least this share of the mean distance (no
# source: less is soon undone by one more row).
ONE_SIDED_FROM: Final = 0.5
LEAST_GROUPS_OF_A_SIDE: Final = 2


@dataclass(frozen=True, slots=True)
class Error:
    """Mean distance of some points. still: what it would be had no change been predicted.

    bias: mean of predicted less measured. inside: share of the changes measured that lie in the
    band of one person; None without bands. fitted: groups that parameters were set from or that
    were in view then.
    """

    points: int
    groups: int
    off: float
    still: float
    bias: float
    inside: float | None
    fitted: int

    @property
    def one_sided(self) -> bool:
        """Whether it was as a rule too high, or as a rule too low."""
        enough = self.groups >= LEAST_GROUPS_OF_A_SIDE
        return enough and abs(self.bias) >= ONE_SIDED_FROM * self.off > 0


def error_of(points: Sequence[Point]) -> Error | None:
    """How far off; None of no points."""
    if not points:
        return None
    size = len(points)
    within = [point.inside for point in points if point.inside is not None]
    return Error(
        points=size,
        groups=len({point.arm for point in points}),
        off=sum(abs(point.off) for point in points) / size,
        still=sum(abs(point.measured) for point in points) / size,
        bias=sum(point.off for point in points) / size,
        inside=sum(within) / len(within) if within else None,
        fitted=len({point.arm for point in points if not point.held_out}),
    )


def by_quantity(points: Iterable[Point]) -> dict[str, list[Point]]:
    """The points of each quantity, in the order of QUANTITIES; none is left out."""
    known = list(points)
    found = {q: [p for p in known if p.quantity == q] for q in QUANTITIES}
    return {quantity: some for quantity, some in found.items() if some}
