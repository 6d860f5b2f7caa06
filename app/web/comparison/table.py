"""A comparison as tables: numbers on the decimal point, and in words what is not a number."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.amounts import DailyNeed
from app.catalogue.comparison import (
    FIGURE_HEADS,
    NOT_COUNTED,
    Cell,
    Column,
    Comparison,
    Row,
    RowHead,
)
from app.chemistry.units import meq_from_mmol
from app.web.comparison.bedside import OwnResults
from app.web.fluids.shelf import Shelf, StockView
from app.web.show import Aligned, aligned, capital, number, span

PLACES: Final = 2
ONE_PLACE: Final = 1
SUMMED_IN: Final = ("mOsm/L", "mEq/L", "mmol/L", "kcal/L")
# Two charges each: labels print either, so both stand here.
DIVALENT: Final = ("calcium", "magnesium")
LEFT_OUT: Final = ("charge_gap",)
SAME: Final = Aligned("same")
NONE: Final = Aligned("none")
PLACE_WORDS: Final = {"below": "under the adult range", "above": "over the adult range"}
MINUS: Final = "−"
NOT_TOLD: Final = StockView()
NOBODY_TOLD: Final = Shelf()
TIED: Final = "a finding is about this"


@dataclass(frozen=True, slots=True)
class Heading:
    """A column's heading. fluid_id is empty for plasma and the patient. stock: of a fluid."""

    name: str
    kind: str
    fluid_id: str = ""
    stock: StockView = NOT_TOLD


@dataclass(frozen=True, slots=True)
class CellView:
    """A figure with what stands under it on the same decimal point: a range, an age, a difference.

    words: said instead of a figure ("not on the label").
    """

    figure: Aligned | None
    below: Aligned | None = None
    words: str = ""
    outside: bool = False


@dataclass(frozen=True, slots=True)
class RowView:
    """One row. workings: for a computed figure, each fluid with its numbers put in."""

    key: str
    name: str
    unit: str
    cells: tuple[CellView, ...]
    need: str = ""
    formula: str = ""
    workings: tuple[tuple[str, str], ...] = ()
    tied: bool = False
    note: str = ""
    equal: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; folded: rows left out because all fluids agree, in words."""

    headings: tuple[Heading, ...]
    rows: tuple[RowView, ...]
    folded: tuple[str, ...] = ()
    needs: bool = False


@dataclass(frozen=True, slots=True)
class Besides:
    """What tables are told with: own results, row keys a finding is about, a second basis, and
    where fluids are to be had.
    """

    own: OwnResults | None = None
    tied: frozenset[str] = frozenset()
    second: Comparison | None = None
    second_word: str = ""
    shelf: Shelf = NOBODY_TOLD


def amounts_table(comparison: Comparison, besides: Besides, *, differences: bool) -> Table:
    """Ions and solutes. On a bag or a day only fluids have a column."""
    places = _places(comparison)
    below = _second_figures(besides)
    rows: list[RowView] = []
    for row in comparison.amounts:
        cells = tuple(_cell(row, at, comparison, besides, below) for at in places)
        unit = f"{row.head.unit}/L" if comparison.basis.label == "per litre" else row.head.unit
        rows.append(_row_view(row, cells, unit, besides))
        if row.head.key in DIVALENT:
            rows.append(_as_charge(row, places, comparison, rows[-1]))
    headings = _headings(comparison, places, besides.shelf)
    return _table(headings, rows, differences=differences)


def figures_table(comparison: Comparison, besides: Besides, *, differences: bool) -> Table:
    """Computed and labelled figures of a litre, each with its formula and workings."""
    places = range(len(comparison.columns))
    rows = [
        replace(
            _row_view(
                row,
                tuple(_cell(row, at, comparison, besides, {}) for at in places),
                "" if row.head.unit == "1" else row.head.unit,
                besides,
            ),
            formula=row.head.formula,
            workings=_workings(row, comparison.columns),
        )
        for row in comparison.figures
        if row.head.key not in LEFT_OUT
    ]
    headings = _headings(comparison, places, besides.shelf)
    return _table(headings, rows, differences=differences)


def _places(comparison: Comparison) -> list[int]:
    per_litre = comparison.basis.label == "per litre"
    columns = enumerate(comparison.columns)
    return [at for at, column in columns if per_litre or column.kind == "fluid"]


def _table(headings: tuple[Heading, ...], rows: list[RowView], *, differences: bool) -> Table:
    """Rows a finding is about come first; equal rows are folded when only differences count."""
    shown = [row for row in rows if not (differences and row.equal)]
    shown.sort(key=lambda row: not row.tied)
    return Table(
        headings=headings,
        rows=tuple(shown),
        folded=tuple(_folded(row) for row in rows if differences and row.equal),
        needs=any(row.need for row in rows),
    )


def _folded(row: RowView) -> str:
    """A row in which all fluids agree, in words: "potassium none"."""
    cell = row.cells[-1]
    figure = cell.words if cell.figure is None else f"{cell.figure} {row.unit}"
    return f"{row.name} {figure.removesuffix(f' {row.unit}') if cell.figure == NONE else figure}"


def _headings(comparison: Comparison, places: Iterable[int], shelf: Shelf) -> tuple[Heading, ...]:
    return tuple(_heading(comparison.columns[at], shelf) for at in places)


def _heading(column: Column, shelf: Shelf) -> Heading:
    name = capital(column.heading)
    if column.kind != "fluid":
        return Heading(name, column.kind)
    return Heading(name, column.kind, column.key, shelf.view(column.key))


def _row_view(row: Row, cells: tuple[CellView, ...], unit: str, besides: Besides) -> RowView:
    return RowView(
        key=row.head.key,
        name=capital(row.head.name),
        unit=unit,
        cells=cells,
        need="" if row.need is None else need_words(row.need),
        tied=row.head.key in besides.tied,
        note=TIED if row.head.key in besides.tied else "",
        equal=row.is_equal,
    )


def _cell(
    row: Row,
    at: int,
    comparison: Comparison,
    besides: Besides,
    below: Mapping[tuple[str, str], Aligned],
) -> CellView:
    cell, column = row.cells[at], comparison.columns[at]
    if column.kind == "patient":
        return _own_cell(row.head, cell, besides.own)
    if cell.value is None:
        return CellView(None, words="" if cell.why == NOT_COUNTED else cell.why)
    if not cell.value and row in comparison.amounts:
        return CellView(NONE)
    places = _decimals(row.head)
    if column.kind == "plasma":
        return CellView(aligned(cell.value, places), _range(cell, places))
    under = below.get((row.head.key, column.key)) or _difference(cell, places)
    return CellView(aligned(cell.value, places), under)


def _decimals(head: RowHead) -> int:
    """Computed sums to one decimal; amounts, litres of water and pH to two."""
    return ONE_PLACE if head in FIGURE_HEADS and head.unit in SUMMED_IN else PLACES


def _range(cell: Cell, places: int) -> Aligned | None:
    return None if cell.low is None else Aligned(span(cell.low, cell.high, places))


def _own_cell(head: RowHead, cell: Cell, own: OwnResults | None) -> CellView:
    if own is None or cell.value is None:
        return CellView(None, words=(own.lacks if own else {}).get(head.key, ""))
    outside = PLACE_WORDS.get(cell.place, "")
    below = ", ".join(part for part in (own.ages.get(head.key, ""), outside) if part)
    return CellView(aligned(cell.value, PLACES), Aligned(below), outside=bool(outside))


def _difference(cell: Cell, places: int) -> Aligned | None:
    """How far from plasma: "+14", "−10", or "same" when it would read as nought."""
    if cell.difference is None:
        return None
    size = aligned(abs(cell.difference), places)
    if size.whole.startswith("under") or str(size) == "0":
        return SAME
    return Aligned(f"{MINUS if cell.difference < 0 else '+'}{size.whole}", size.fraction)


def _second_figures(besides: Besides) -> Mapping[tuple[str, str], Aligned]:
    """Figures of the second basis by row and column, as text."""
    second = besides.second
    if second is None:
        return {}
    return {
        (row.head.key, column.key): Aligned(f"{number(cell.value, PLACES)} {besides.second_word}")
        for row in second.amounts
        for column, cell in zip(second.columns, row.cells, strict=True)
        if column.kind == "fluid" and cell.value
    }


def _as_charge(row: Row, places: list[int], comparison: Comparison, of: RowView) -> RowView:
    """The same row in mEq, told as charge."""
    cells = [row.cells[at] for at in places]
    return replace(
        of,
        key=f"{row.head.key}_charge",
        name=f"{of.name}, as charge",
        unit="mEq/L" if comparison.basis.label == "per litre" else "mEq",
        cells=tuple(_charge_cell(row.head.key, cell) for cell in cells),
        need="",
        note="",
    )


def _charge_cell(key: str, cell: Cell) -> CellView:
    if not cell.value:
        return CellView(NONE if cell.value == 0 else None)
    return CellView(aligned(meq_from_mmol(key, cell.value), PLACES))


def _workings(row: Row, columns: tuple[Column, ...]) -> tuple[tuple[str, str], ...]:
    pairs = zip(columns, row.cells, strict=True)
    return tuple((capital(column.heading), cell.working) for column, cell in pairs if cell.working)


def need_words(need: DailyNeed) -> str:
    """An adult's need in words: "about 70 mmol", "1,750 to 2,100 mL"."""
    if need.low == need.high:
        return f"about {number(need.low)} {need.unit}"
    return f"{span(need.low, need.high)} {need.unit}"
