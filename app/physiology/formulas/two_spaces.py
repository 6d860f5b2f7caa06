"""Where an infusion is over time: two spaces that trade fluid, and what is passed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

# Short against every rate here: a step of 0.1 min errs in the sixth digit.
STEP_MIN: Final = 0.1
Amounts = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Infused:
    """A volume at an even pace from time zero, mL and min."""

    volume_ml: float
    minutes: float


@dataclass(frozen=True, slots=True)
class RateConstants:
    """Shares of what is in excess that move each minute: passed, out of plasma, back into it.

    Hahn, Acta Anaesthesiol Scand 2020;64:570, from memory and uncertain.
    """

    passed: float
    out: float
    back: float

    def flow(self, plasma: float, tissue: float) -> Amounts:
        """How fast plasma, tissue and urine gain, mL/min."""
        moved = self.out * plasma - self.back * tissue
        return -self.passed * plasma - moved, moved, self.passed * plasma


@dataclass(frozen=True, slots=True)
class Spaces:
    """Two spaces that expand (mL), clearance of the first's dilution, trade and basal loss, mL/min.

    Svensén and Hahn, Anesthesiology 1997;87:204, from memory and uncertain; the trade is assumed.
    """

    first_ml: float
    second_ml: float
    clearance_ml_min: float
    trade_ml_min: float
    basal_ml_min: float

    def flow(self, plasma: float, tissue: float) -> Amounts:
        """How fast the two spaces and what is lost gain, mL/min."""
        dilution = plasma / self.first_ml
        moved = self.trade_ml_min * (dilution - tissue / self.second_ml)
        lost = self.basal_ml_min + self.clearance_ml_min * dilution
        return -lost - moved, moved, lost


def excess_ml(spaces: RateConstants | Spaces, infused: Infused, at_min: float) -> Amounts:
    """Excess in plasma and tissue and what is passed, mL, at a time, min. They add up to the given.

    Steps of the midpoint rule, short against every rate.
    """
    ends = min(at_min, infused.minutes)
    amounts = _run(spaces.flow, infused.volume_ml / infused.minutes, ends, (0.0, 0.0, 0.0))
    return _run(spaces.flow, 0.0, at_min - ends, amounts)


def _run(
    flow: Callable[[float, float], Amounts], rate_ml_min: float, minutes: float, amounts: Amounts
) -> Amounts:
    """On from some amounts at one pace of infusion."""
    steps = max(round(minutes / STEP_MIN), 1)
    step = minutes / steps
    first, second, passed = amounts
    for _ in range(steps):
        into, across, _ = flow(first, second)
        half = step / 2
        into, across, lost = flow(first + half * (into + rate_ml_min), second + half * across)
        first += step * (into + rate_ml_min)
        second += step * across
        passed += step * lost
    return first, second, passed
