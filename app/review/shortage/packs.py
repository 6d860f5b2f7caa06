"""Which bags an order is hung from. Pure."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

# A bag that runs is changed at least once a day (common practice, no source).
BAGS_A_DAY_AT_LEAST: Final = 1.0
# A rate is rounded to whole mL/h: what that makes over a bag opens no further one.
ROUNDED_SHARE: Final = 0.02


@dataclass(frozen=True, slots=True)
class Bags:
    """So many bags of one size, mL, for one volume ordered."""

    size_ml: float
    bags: int

    @property
    def volume_ml(self) -> float:
        """What they hold together."""
        return self.size_ml * self.bags


def bags_for(volume_ml: float | None, sizes_ml: Iterable[float]) -> Bags | None:
    """The bags a volume is hung from: the fewest, and of those the least left over.

    With no volume written, one of the largest. None where no size is known.
    """
    sizes = tuple(sizes_ml)
    if not sizes:
        return None
    if not volume_ml:
        return Bags(max(sizes), 1)
    each = (Bags(size, max(math.ceil(volume_ml / size - ROUNDED_SHARE), 1)) for size in sizes)
    return min(each, key=lambda bags: (bags.bags, bags.volume_ml))


def bags_a_day(ml_day: float, bags: Bags, *, once: bool) -> float:
    """Bags hung in 24 h. once: the volume ordered is all that is meant, so whole bags count."""
    if not ml_day:
        return 0.0
    if once:
        return float(max(bags.bags, math.ceil(ml_day / bags.size_ml - ROUNDED_SHARE)))
    return max(ml_day / bags.size_ml, BAGS_A_DAY_AT_LEAST)
