"""What people told of a lumen: that it failed, was looked at and works, or was newly placed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final, Literal

from app.patient.access import Lumen

State = Literal["failed", "works", "placed", "as it was"]
Site = Literal["peripheral", "central"]
# A lumen nobody has looked at for so long is told as such (common practice, no source).
STALE_AFTER: Final = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class LumenTold:
    """One thing told. state "as it was" takes back what was told before it. by: as written.

    site: of a lumen that was placed, which no record of the patient has yet. size: as written
    ("20 G"); empty where nobody told.
    """

    lumen: str
    state: State
    at: datetime
    by: str = ""
    size: str = ""
    site: Site | None = None

    def is_stale(self, now: datetime) -> bool:
        """True when it was told too long ago."""
        return now - self.at > STALE_AFTER


def standing(told: Iterable[LumenTold]) -> Mapping[str, LumenTold]:
    """What counts of each lumen, from everything told in order; nothing where nothing does.

    Size and site stay as they were told last.
    """
    every: dict[str, list[LumenTold]] = {}
    for one in told:
        of_lumen = every.setdefault(one.lumen, [])
        if one.state != "as it was":
            of_lumen.append(one)
        elif of_lumen:
            of_lumen.pop()
    return {lumen: _with_before(of_lumen) for lumen, of_lumen in every.items() if of_lumen}


def _with_before(told: list[LumenTold]) -> LumenTold:
    size = next((one.size for one in reversed(told) if one.size), "")
    site = next((one.site for one in reversed(told) if one.site), None)
    return replace(told[-1], size=size, site=site)


def failed_in(stands: Mapping[str, LumenTold]) -> frozenset[str]:
    """The lumens that are out of use."""
    return frozenset(lumen for lumen, told in stands.items() if told.state == "failed")


def placed_in(stands: Mapping[str, LumenTold]) -> tuple[Lumen, ...]:
    """The lumens that people told were placed, in the order of their names."""
    return tuple(Lumen(name, stands[name].site) for name in sorted(stands) if stands[name].site)


def with_placed(access: Iterable[Lumen], stands: Mapping[str, LumenTold]) -> tuple[Lumen, ...]:
    """What is recorded of a patient's access, then what was placed since."""
    recorded = tuple(access)
    known = {lumen.id for lumen in recorded}
    return (*recorded, *(lumen for lumen in placed_in(stands) if lumen.id not in known))
