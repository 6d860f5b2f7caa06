"""How much of what is said is worth acting on, and how sure that is.

Formulas: interval of a share by Wilson (J Am Stat Assoc 1927;22:209-12), as Newcombe gives it
(Stat Med 1998;17:857-72, his method 3); agreement beyond chance by Cohen (Educ Psychol Meas
1960;20:37-46). Texts from memory; figures checked in tests/reference/test_agreement.py.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

# The standard normal quantile of a two-sided 95% interval.
Z_95: Final = 1.959963984540054
# Under so many findings marked by two, a share says less than its interval, and kappa nothing.
TOO_FEW: Final = 10
# A rule of so many showings with a lower share than this is looked at again by its owner
# (USERS.md 2.5, our target).
LOOKED_AT_FROM: Final = 50
LOOKED_AT_BELOW: Final = 0.3
USEFUL: Final = "useful"

Verdicts = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Interval:
    """From low to high, as shares of one."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Precision:
    """Of findings that two people marked: how many both call useful, one does, and neither.

    both: with what it says of how many are worth acting on, counting only what both say.
    """

    both: int
    one: int
    neither: int

    @property
    def marked(self) -> int:
        """Findings that two people marked."""
        return self.both + self.one + self.neither

    @property
    def is_enough(self) -> bool:
        """True when there are enough to say anything."""
        return self.marked >= TOO_FEW

    @property
    def share(self) -> float | None:
        """The share that both call useful; None where there are too few to say."""
        return self.both / self.marked if self.is_enough else None

    @property
    def interval(self) -> Interval | None:
        """Where that share may lie; None where there are too few to say."""
        return wilson(self.both, self.marked) if self.is_enough else None

    @property
    def is_to_be_looked_at(self) -> bool:
        """True when it has been shown often and is seldom worth acting on."""
        share = self.share
        return self.marked >= LOOKED_AT_FROM and share is not None and share < LOOKED_AT_BELOW


def precision_of(pairs: Iterable[Verdicts]) -> Precision:
    """From what two people say of each finding."""
    useful = Counter(sum(verdict == USEFUL for verdict in pair) for pair in pairs)
    return Precision(both=useful[2], one=useful[1], neither=useful[0])


def wilson(hits: int, of: int, z: float = Z_95) -> Interval:
    """Wilson's score interval of a share, without continuity correction.

    hits of `of`; z: the normal quantile. Raises ValueError for no tries, or more hits than tries.
    """
    if not 0 <= hits <= of or of == 0:
        raise ValueError(f"{hits} of {of} is no share")
    share, square = hits / of, z * z
    middle = share + square / (2 * of)
    half = z * sqrt(share * (1 - share) / of + square / (4 * of * of))
    whole = 1 + square / of
    # At none and at all the formula gives 0 and 1 but for rounding.
    low = 0.0 if hits == 0 else (middle - half) / whole
    high = 1.0 if hits == of else (middle + half) / whole
    return Interval(low, high)


def cohen_kappa(pairs: Iterable[Verdicts]) -> float | None:
    """Agreement of two people beyond chance: 1 always, 0 as often as chance.

    None where it is not defined: no pair, or both used one and the same word throughout.
    """
    all_pairs = tuple(pairs)
    if not all_pairs:
        return None
    number = len(all_pairs)
    agreed = sum(one == other for one, other in all_pairs) / number
    first, second = (Counter(column) for column in zip(*all_pairs, strict=True))
    chance = sum(first[word] * second[word] for word in first) / number**2
    if chance == 1.0:
        return None
    return (agreed - chance) / (1 - chance)


def kappa_or_none(pairs: Sequence[Verdicts]) -> float | None:
    """As cohen_kappa(), and None also where there are too few to say."""
    return cohen_kappa(pairs) if len(pairs) >= TOO_FEW else None


def needed_to_show(share: float | None) -> float | None:
    """Findings shown for one worth acting on; None where none is, or the share is not known."""
    return 1 / share if share else None
