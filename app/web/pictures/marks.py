"""The marks an ion column is drawn with: blocks, labels with leaders, the gap, the whole drawing.

Lengths are in units of the drawing (1 unit is 1 px at natural size), y downwards.
"""

from dataclasses import dataclass
from typing import Final

LINE_HEIGHT: Final = 17.0
MARGIN: Final = 10.0
OVERHANG: Final = 8.0


@dataclass(frozen=True, slots=True)
class Block:
    """One filled rectangle."""

    key: str
    title: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of text around (x, y), the middle of the block of lines. place: inside, left, right.

    leader: the points from its block to the text, empty for a label inside.
    """

    key: str
    place: str
    x: float
    y: float
    lines: tuple[str, ...]
    leader: tuple[tuple[float, float], ...] = ()

    @property
    def baselines(self) -> tuple[tuple[float, str], ...]:
        """Each line with the y of its middle."""
        first = self.y - (len(self.lines) - 1) * LINE_HEIGHT / 2
        return tuple((first + i * LINE_HEIGHT, line) for i, line in enumerate(self.lines))

    @property
    def points(self) -> str:
        """The leader as an SVG polyline wants it."""
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in self.leader)


@dataclass(frozen=True, slots=True)
class Gap:
    """The strong ion difference between the bars: from top to bottom, its label beside it."""

    x: float
    width: float
    top: float
    bottom: float
    label_y: float
    amount: str
    drawn: bool


@dataclass(frozen=True, slots=True)
class Drawing:
    """One column ready to be written down as SVG."""

    name: str
    width: float
    height: float
    baseline: float
    cation_x: float
    anion_x: float
    bar_width: float
    blocks: tuple[Block, ...]
    labels: tuple[Label, ...]
    gap: Gap | None
    reference_y: float | None
    empty: bool

    @property
    def indented(self) -> bool:
        """True when ions are named to the left of the bars."""
        return self.cation_x > MARGIN

    @property
    def reference_x1(self) -> float:
        """Where the line at the first column's height begins."""
        return self.cation_x - OVERHANG

    @property
    def reference_x2(self) -> float:
        """Where it ends."""
        return self.anion_x + self.bar_width + OVERHANG

    @property
    def cation_middle(self) -> float:
        """Middle of the cation bar."""
        return self.cation_x + self.bar_width / 2

    @property
    def anion_middle(self) -> float:
        """Middle of the anion bar."""
        return self.anion_x + self.bar_width / 2

    @property
    def channel_middle(self) -> float:
        """Middle of the space between the bars."""
        return (self.cation_x + self.bar_width + self.anion_x) / 2
