"""What came of holding a label against an entry."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.labels.reading import Figure

# Beside half of the last digit: atomic weights are rounded, and a maker's sum may be as well.
ROUNDING_SHARE: Final = 0.005
MG_PER_G: Final = 1000.0
FLOAT_NOISE: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which label and entry differ. label, entry: in words with units."""

    of: str
    label: str
    entry: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Held:
    """A label held against an entry. same: what agrees; unread: what nobody could read.

    open: what was read and says no amount, so that nothing could be compared with it.
    """

    differences: tuple[Difference, ...]
    same: tuple[str, ...]
    unread: tuple[str, ...] = ()
    not_told: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def volume_of(figure: Figure) -> str:
    """In how much a figure is: "/L", " in 100 mL"."""
    return "/L" if figure.per_litre == 1 else f" in {figure.basis_ml:g} mL"
