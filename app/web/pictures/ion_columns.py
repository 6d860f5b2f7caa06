"""Ion columns: where each block, label and line of the picture stands. Geometry only.

Cations and anions side by side, their charge upwards in mEq/L, every column on one scale.
Lengths are in units of the drawing (1 unit is 1 px at natural size), y downwards.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.web.pictures.marks import LINE_HEIGHT, MARGIN, Block, Drawing, Gap, Label
from app.web.pictures.spread import spread

BAR_WIDTH: Final = 64.0
CHANNEL_WIDTH: Final = 36.0
TOP: Final = 46.0
PLOT_HEIGHT: Final = 336.0
BOTTOM: Final = 26.0
HEIGHT: Final = TOP + PLOT_HEIGHT + BOTTOM
BASELINE: Final = TOP + PLOT_HEIGHT
CHARACTER_WIDTH: Final = 7.0
LEADER_REACH: Final = 20.0
LEADER_ELBOW: Final = 9.0
LEADER_GAP: Final = 4.0
# Every column with names on the left has them in the same width, so that titles can line up.
NAMED_GUTTER: Final = 80.0
LABEL_PADDING: Final = 4.0
TWO_LINES: Final = 2 * LINE_HEIGHT + LABEL_PADDING
# A difference between the sums that would be seen as a step is drawn as a block of its own.
VISIBLE: Final = 1.0
NOT_LABELLED: Final = "not-labelled"
NOT_LISTED: Final = "not-listed"
SOLID: Final = frozenset(
    {"sodium", "chloride", "bicarbonate", "lactate", "acetate", "gluconate", "malate", NOT_LABELLED}
)


@dataclass(frozen=True, slots=True)
class Part:
    """One ion of a column: charge in mEq/L (0 or more), and its words as they are to be read."""

    key: str
    symbol: str
    charge_meq_l: float
    amount: str
    title: str

    @property
    def text(self) -> str:
        """Symbol and amount on one line."""
        return f"{self.symbol} {self.amount}"


@dataclass(frozen=True, slots=True)
class Column:
    """One solution. gap_from_meq_l: anion charge below the strong ion difference (chloride and
    other strong anions that stay); None where it is not known. gap: its amount in words.
    """

    name: str
    cations: tuple[Part, ...]
    anions: tuple[Part, ...]
    gap_from_meq_l: float | None
    gap: str

    @property
    def charge_meq_l(self) -> float:
        """Height of the column: the larger of the two sums, mEq/L."""
        return max(_sum(self.cations), _sum(self.anions))


def draw(columns: Sequence[Column], *, reference: int | None = 0) -> tuple[Drawing, ...]:
    """Every column on the scale of the tallest. reference: the column whose height the others show.

    Columns keep the order given, parts the order given within their column.
    """
    tallest = max((column.charge_meq_l for column in columns), default=0.0)
    scale = PLOT_HEIGHT / tallest if tallest else 0.0
    level = None if reference is None else BASELINE - columns[reference].charge_meq_l * scale
    return tuple(
        _column(column, scale, None if place == reference else level)
        for place, column in enumerate(columns)
    )


def _column(column: Column, scale: float, reference_y: float | None) -> Drawing:
    cations, anions = _balanced(column, scale)
    left_labels = [part for part in cations if not _fits_inside(part, part.charge_meq_l * scale)]
    right_labels = [part for part in anions if not _fits_inside(part, part.charge_meq_l * scale)]
    cation_x = _gutter(left_labels)
    anion_x = cation_x + BAR_WIDTH + CHANNEL_WIDTH
    left, right = _stack(cations, cation_x, scale), _stack(anions, anion_x, scale)
    labels = (
        *_inside(cations, left),
        *_inside(anions, right),
        *_outside(cations, left, "left"),
        *_outside(anions, right, "right"),
    )
    return Drawing(
        name=column.name,
        width=anion_x + BAR_WIDTH + _gutter(right_labels),
        height=HEIGHT,
        baseline=BASELINE,
        cation_x=cation_x,
        anion_x=anion_x,
        bar_width=BAR_WIDTH,
        blocks=(*left, *right),
        labels=labels,
        gap=_gap(column, cation_x + BAR_WIDTH, scale),
        reference_y=reference_y,
        empty=not (cations or anions),
    )


def _balanced(column: Column, scale: float) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Both sides with what no label names added to the shorter, when it would be seen."""
    difference = _sum(column.cations) - _sum(column.anions)
    if abs(difference) * scale < VISIBLE:
        return column.cations, column.anions
    amount = f"{abs(difference):.3g}"
    rest = Part(NOT_LISTED, "not listed", abs(difference), amount, f"not listed, {amount} mEq/L")
    if difference > 0:
        return column.cations, (*column.anions, rest)
    return (*column.cations, rest), column.anions


def _stack(parts: Sequence[Part], x: float, scale: float) -> tuple[Block, ...]:
    blocks: list[Block] = []
    foot = BASELINE
    for part in parts:
        height = part.charge_meq_l * scale
        foot -= height
        blocks.append(Block(part.key, part.title, x, foot, BAR_WIDTH, height))
    return tuple(blocks)


def _fits_inside(part: Part, height: float) -> bool:
    """Only solid colours carry text, so that a pattern never runs through a number."""
    if part.key not in SOLID or height < LINE_HEIGHT + LABEL_PADDING:
        return False
    return height >= TWO_LINES or _text_width(part.text) <= BAR_WIDTH


def _inside(parts: Sequence[Part], blocks: Sequence[Block]) -> tuple[Label, ...]:
    return tuple(
        Label(
            part.key,
            "inside",
            block.x + BAR_WIDTH / 2,
            block.y + block.height / 2,
            (part.symbol, part.amount) if block.height >= TWO_LINES else (part.text,),
        )
        for part, block in zip(parts, blocks, strict=True)
        if _fits_inside(part, block.height)
    )


def _outside(parts: Sequence[Part], blocks: Sequence[Block], place: str) -> tuple[Label, ...]:
    """Labels with a leader each, top to bottom as the blocks are, never nearer than a line."""
    small = [
        (part, block)
        for part, block in zip(parts, blocks, strict=True)
        if not _fits_inside(part, block.height)
    ][::-1]
    middles = [block.y + block.height / 2 for _, block in small]
    places = spread(middles, LINE_HEIGHT, LINE_HEIGHT / 2, BASELINE - LINE_HEIGHT / 2)
    sign = -1.0 if place == "left" else 1.0
    labels: list[Label] = []
    for (part, block), middle, y in zip(small, middles, places, strict=True):
        edge = block.x if place == "left" else block.x + BAR_WIDTH
        elbow, end = edge + sign * LEADER_ELBOW, edge + sign * LEADER_REACH
        leader = ((edge, middle), (elbow, y), (end - sign * LEADER_GAP, y))
        labels.append(Label(part.key, place, end, y, (part.text,), leader))
    return tuple(labels)


def _gap(column: Column, x: float, scale: float) -> Gap | None:
    """The strong ion difference as a height; a label above the bars when it is too low for one."""
    if column.gap_from_meq_l is None or not column.charge_meq_l:
        return None
    top = BASELINE - _sum(column.cations) * scale
    bottom = BASELINE - column.gap_from_meq_l * scale
    roomy = bottom - top >= LINE_HEIGHT + 2 * LABEL_PADDING
    label_y = (top + bottom) / 2 if roomy else min(top, bottom) - LINE_HEIGHT / 2 - LABEL_PADDING
    return Gap(x, CHANNEL_WIDTH, top, bottom, label_y, column.gap, bottom - top >= VISIBLE)


def _gutter(labels: Sequence[Part]) -> float:
    """Room beside a bar for its longest outside label."""
    if not labels:
        return MARGIN
    longest = max(_text_width(part.text) for part in labels)
    return max(NAMED_GUTTER, LEADER_REACH + longest + LABEL_PADDING)


def _text_width(text: str) -> float:
    return len(text) * CHARACTER_WIDTH


def _sum(parts: Sequence[Part]) -> float:
    return sum(part.charge_meq_l for part in parts)
