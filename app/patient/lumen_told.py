"""What people told of a lumen: that it failed, that it was looked at and works, or neither."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, Literal

State = Literal["failed", "works", "as it was"]
# A lumen nobody has looked at for so long is told as such (common practice, no source).
STALE_AFTER: Final = timedelta(hours=12)


@dataclass(frozen=True, slots=True)
class LumenTold:
    """One thing told. state "as it was" takes back what was told before it. by: as written."""

    lumen: str
    state: State
    at: datetime
    by: str = ""

    def is_stale(self, now: datetime) -> bool:
        """True when it was told too long ago."""
        return now - self.at > STALE_AFTER


def standing(told: Iterable[LumenTold]) -> Mapping[str, LumenTold]:
    """What counts of each lumen, from everything told in order; nothing where nothing does."""
    every: dict[str, list[LumenTold]] = {}
    for one in told:
        of_lumen = every.setdefault(one.lumen, [])
        if one.state != "as it was":
            of_lumen.append(one)
        elif of_lumen:
            of_lumen.pop()
    return {lumen: of_lumen[-1] for lumen, of_lumen in every.items() if of_lumen}


def failed_in(stands: Mapping[str, LumenTold]) -> frozenset[str]:
    """The lumens that are out of use."""
    return frozenset(lumen for lumen, told in stands.items() if told.state == "failed")
