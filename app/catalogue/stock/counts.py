"""Bags counted on the ward and in pharmacy: the newest count of each size and place counts."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType
from typing import Final, Literal, get_args

from app.catalogue.fluid import ML_PER_L, Fluid

Place = Literal["ward", "pharmacy"]
PLACES: Final[tuple[Place, ...]] = get_args(Place)
IN_WORDS: Final[Mapping[Place, str]] = MappingProxyType(
    {"ward": "on the ward", "pharmacy": "in pharmacy"}
)


@dataclass(frozen=True, slots=True)
class BagCount:
    """So many whole bags of one size, mL, in one place, as somebody counted them."""

    fluid_id: str
    size_ml: int
    place: Place
    bags: int
    at: datetime
    by: str = ""


@dataclass(frozen=True, slots=True)
class Counts:
    """The newest count of each fluid, size and place. What is not there, nobody has counted."""

    newest: Mapping[tuple[str, int, Place], BagCount] = field(
        default_factory=lambda: MappingProxyType({})
    )

    @staticmethod
    def of(counts: Iterable[BagCount]) -> "Counts":
        """From counts in the order they were told in: a later one takes an earlier one's place."""
        by_place = {(one.fluid_id, one.size_ml, one.place): one for one in counts}
        return Counts(MappingProxyType(by_place))

    def get(self, fluid_id: str, size_ml: int, place: Place) -> BagCount | None:
        """What was last counted, None where nobody did."""
        return self.newest.get((fluid_id, size_ml, place))

    def of_size(self, fluid_id: str, size_ml: int) -> tuple[BagCount, ...]:
        """The counts of one size, the ward's first."""
        found = (self.get(fluid_id, size_ml, place) for place in PLACES)
        return tuple(one for one in found if one is not None)

    def bags(self, fluid_id: str, size_ml: int) -> int | None:
        """All bags of one size; None where nobody counted. A place not counted adds nothing."""
        found = self.of_size(fluid_id, size_ml)
        return sum(one.bags for one in found) if found else None

    def litres(self, fluid: Fluid, sizes_ml: Iterable[int] | None = None) -> float | None:
        """All that was counted of a fluid or of some of its sizes, L; None where nobody did."""
        sizes = fluid.pack_sizes_ml if sizes_ml is None else tuple(sizes_ml)
        counted = [(size, self.bags(fluid.id, size)) for size in sizes]
        known = [size * bags for size, bags in counted if bags is not None]
        return sum(known) / ML_PER_L if known else None

    def none_left(self, fluid: Fluid) -> bool:
        """True when every size was counted and no bag was found."""
        return bool(fluid.pack_sizes_ml) and all(
            self.bags(fluid.id, size) == 0 for size in fluid.pack_sizes_ml
        )

    def not_counted(self, fluid: Fluid) -> tuple[int, ...]:
        """The sizes that nobody counted."""
        return tuple(size for size in fluid.pack_sizes_ml if self.bags(fluid.id, size) is None)


NOTHING_COUNTED: Final = Counts()
