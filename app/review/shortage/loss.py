"""What is lost, how much of it, and from when. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.catalogue.fluid import Fluid

USUAL_DAYS: Final = 7
SIZE_MARK: Final = "@"
Sizes = frozenset[int]


@dataclass(frozen=True, slots=True)
class Loss:
    """What cannot be had any more.

    sizes: by fluid id the pack sizes lost, mL; empty where every size is. share: of the deliveries,
    above 0, at most 1. shelf_too: of what has been counted here the same share is lost (a recall).
    smaller: several smaller bags may stand in for a larger. told_only: only what somebody told or
    counted to be here stands in. days: for how long a plan is wanted.
    """

    sizes: Mapping[str, Sizes]
    starts: datetime
    share: float = 1.0
    shelf_too: bool = False
    smaller: bool = False
    told_only: bool = False
    days: int = USUAL_DAYS

    def has(self, fluid_id: str, size_ml: float | None) -> bool:
        """Whether bags of a fluid are lost; a size that is not known may be any."""
        if fluid_id not in self.sizes:
            return False
        sizes = self.sizes[fluid_id]
        return not sizes or size_ml is None or size_ml in sizes

    def is_whole(self, fluid_id: str) -> bool:
        """Whether every size of a fluid is lost."""
        return fluid_id in self.sizes and not self.sizes[fluid_id]

    def left_sizes(self, fluid: Fluid) -> tuple[int, ...]:
        """The pack sizes of a fluid that are not lost."""
        return tuple(size for size in fluid.pack_sizes_ml if not self.has(fluid.id, size))

    @property
    def keys(self) -> tuple[str, ...]:
        """What an address says is lost: "ID", or "ID@SIZE" for one size."""
        return tuple(
            key for fluid_id, sizes in self.sizes.items() for key in _keys(fluid_id, sizes)
        )


def _keys(fluid_id: str, sizes: Sizes) -> tuple[str, ...]:
    return tuple(f"{fluid_id}{SIZE_MARK}{size}" for size in sorted(sizes)) or (fluid_id,)
