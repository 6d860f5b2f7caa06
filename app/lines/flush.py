"""How a lumen is flushed between two that clash: how much, with what, how fast.

The first part of a flush pushes in what the lumen still holds, so it goes no faster than that ran.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.lines.model import Site

PRACTICE: Final = Source(NO_SOURCE)
# A lumen is clear once it was filled twice over (common practice, no source).
TIMES_FILLED: Final = 2
REST_MIN: Final = 1


@dataclass(frozen=True, slots=True)
class FlushFluid:
    """What a lumen is flushed with, by its id in the catalogue."""

    id: str
    name: str


SALINE: Final = FlushFluid("sodium-chloride-0.9", "0.9% sodium chloride")


@dataclass(frozen=True, slots=True)
class FlushSetting:
    """Of one kind of lumen: what it holds with its extension, mL, and the least flush given, mL."""

    dead_space_ml: float
    least_ml: float
    source: Source = PRACTICE


SETTINGS: Final[Mapping[Site, FlushSetting]] = {
    "peripheral": FlushSetting(dead_space_ml=1, least_ml=5),
    "central": FlushSetting(dead_space_ml=2, least_ml=10),
}


@dataclass(frozen=True, slots=True)
class Flush:
    """One flush. dead_space_ml: its first part, no faster than what ran before."""

    fluid: FlushFluid
    volume_ml: float
    dead_space_ml: float
    source: Source

    @property
    def words(self) -> str:
        """As it is said at the bedside."""
        return (
            f"Flush with {self.volume_ml:g} mL of {self.fluid.name}: the first "
            f"{self.dead_space_ml:g} mL no faster than what ran before, the rest over about "
            f"{REST_MIN} min"
        )


def flush_of(
    site: Site,
    fluid: FlushFluid = SALINE,
    *,
    settings: Mapping[Site, FlushSetting] = SETTINGS,
) -> Flush:
    """The flush of a lumen by its site: twice its dead space, and no less than is usual."""
    setting = settings[site]
    volume_ml = max(setting.least_ml, TIMES_FILLED * setting.dead_space_ml)
    return Flush(fluid, volume_ml, setting.dead_space_ml, setting.source)
