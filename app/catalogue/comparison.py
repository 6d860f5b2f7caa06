"""Fluids beside each other, beside plasma, and beside a patient's own results."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from app.catalogue.amounts import PER_LITRE, QUANTITIES, Basis, DailyNeed, amount, daily_needs
from app.catalogue.figures import FIGURES, REFERENCE_PLASMA_SODIUM_MMOL_L, figures
from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.plasma import Plasma
from app.chemistry.composition import MILLI
from app.chemistry.substances import GLUCOSE_ANHYDROUS_G_MOL

ColumnKind = Literal["plasma", "patient", "fluid"]
NOT_ON_LABEL: Final = "not on the label"
NOT_KNOWN: Final = "not known"
NOT_COUNTED: Final = "not counted here"
# Two figures that differ by less than half of the second decimal are equal.
EQUAL_WITHIN: Final = 0.005
# Figures that mean something for plasma; free water is counted against plasma itself.
PLASMA_FIGURES: Final = ("strong_ion_difference", "bicarbonate_equivalents")
# The row that a result or a reference value goes to, where the names differ.
ROW_OF_ANALYTE: Final = {"calcium_ionised": "calcium", "osmolality": "osmolarity_labelled"}


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure. value None: why says what is missing. working: the numbers of a computed one.

    low, high: a reference range (plasma's column). difference: value less plasma's typical
    figure; place: "below", "within" or "above" plasma's range; both empty where plasma has none.
    """

    value: float | None
    why: str = ""
    working: str = ""
    low: float | None = None
    high: float | None = None
    difference: float | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its key (a fluid's id, "plasma", "patient"), heading, kind, and its cells."""

    key: str
    heading: str
    kind: ColumnKind
    cells: Mapping[str, Cell]


@dataclass(frozen=True, slots=True)
class RowHead:
    """What a row is about: key, name, unit, and the formula of a computed one."""

    key: str
    name: str
    unit: str
    formula: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row over all columns, in the columns' order.

    is_equal: every fluid has the same figure, so the row may be hidden. absent_in: headings of
    the fluids that hold none while another column does. need: an adult's daily need beside it.
    """

    head: RowHead
    cells: tuple[Cell, ...]
    is_equal: bool
    absent_in: tuple[str, ...] = ()
    need: DailyNeed | None = None


@dataclass(frozen=True, slots=True)
class Beside:
    """What fluids are laid beside: plasma, a patient's results, and the weight that needs go by.

    results: the project's analyte names to values in its units (glucose in mmol/L).
    """

    plasma: Plasma | None = None
    results: Mapping[str, float] | None = None
    weight_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """All a compare page shows: columns, then rows in reading order: amounts, then figures."""

    basis: Basis
    columns: tuple[Column, ...]
    amounts: tuple[Row, ...]
    figures: tuple[Row, ...]

    @property
    def differing(self) -> tuple[Row, ...]:
        """Rows in which the fluids differ, in the same order."""
        return tuple(row for row in (*self.amounts, *self.figures) if not row.is_equal)


WATER: Final = RowHead("water", "volume", "mL")
AMOUNT_HEADS: Final = (WATER, *(RowHead(q.key, q.name, q.unit) for q in QUANTITIES))
FIGURE_HEADS: Final = (
    RowHead("osmolarity_labelled", "osmolarity, labelled", "mOsm/L"),
    *(RowHead(figure.key, figure.name, figure.unit, figure.formula) for figure in FIGURES),
    RowHead("energy", "energy", "kcal/L"),
    RowHead("ph", "pH, typical", "1"),
)


def compare(
    fluids: Sequence[Fluid], beside: Beside | None = None, *, basis: Basis = PER_LITRE
) -> Comparison:
    """Fluids side by side, rows in a fixed order; rows that no column holds are left out.

    Plasma and results are figures per litre, so on another basis their amounts are not counted.
    Figures are always those of a litre. Needs appear on a daily basis that is not per kg when a
    weight is given (NICE CG174, adults).
    """
    other = beside or Beside()
    columns = _columns(fluids, other, basis)
    is_whole_day = basis.is_daily and basis.per_kg == 1
    weight_kg = other.weight_kg if is_whole_day else None
    needs = {} if weight_kg is None else {need.key: need for need in daily_needs(weight_kg)}
    amounts = (_row(head, columns, needs.get(head.key)) for head in AMOUNT_HEADS)
    computed = (_row(head, columns) for head in FIGURE_HEADS)
    return Comparison(
        basis,
        columns,
        tuple(row for row in amounts if _is_held(row)),
        tuple(row for row in computed if _is_held(row)),
    )


def _columns(fluids: Sequence[Fluid], beside: Beside, basis: Basis) -> tuple[Column, ...]:
    columns: list[Column] = []
    is_per_litre = basis is PER_LITRE
    plasma = {} if beside.plasma is None else _plasma_cells(beside.plasma)
    results = beside.results or {}
    if beside.plasma is not None:
        columns.append(Column("plasma", beside.plasma.name, "plasma", _kept(plasma, is_per_litre)))
    if beside.results is not None:
        own = _against(_patient_cells(results), plasma)
        columns.append(Column("patient", "this patient", "patient", _kept(own, is_per_litre)))
    sodium = results.get("sodium", REFERENCE_PLASMA_SODIUM_MMOL_L)
    for fluid in fluids:
        cells = {**_amount_cells(fluid, basis), **_figure_cells(fluid, sodium)}
        reference = _kept(plasma, is_per_litre)
        columns.append(Column(fluid.id, fluid.name, "fluid", _against(cells, reference)))
    return tuple(columns)


def _kept(cells: Mapping[str, Cell], is_per_litre: bool) -> Mapping[str, Cell]:
    """All cells on a basis of one litre; only the figures on another, where amounts differ."""
    amount_keys = {head.key for head in AMOUNT_HEADS}
    return {key: cell for key, cell in cells.items() if is_per_litre or key not in amount_keys}


def _plasma_cells(plasma: Plasma) -> Mapping[str, Cell]:
    cells: dict[str, Cell] = {}
    for value in plasma.values:
        factor = _grams_factor(value.key)
        low, typical, high = (factor * each for each in (value.low, value.typical, value.high))
        cells[ROW_OF_ANALYTE.get(value.key, value.key)] = Cell(typical, low=low, high=high)
    for figure in figures(plasma.composition):
        if figure.key in PLASMA_FIGURES:
            cells[figure.key] = Cell(figure.value, working=figure.working)
    return cells


def _patient_cells(results: Mapping[str, float]) -> Mapping[str, Cell]:
    return {
        ROW_OF_ANALYTE.get(key, key): Cell(_grams_factor(key) * value)
        for key, value in results.items()
    }


def _grams_factor(key: str) -> float:
    """Results and plasma count glucose in mmol/L, rows in grams."""
    return GLUCOSE_ANHYDROUS_G_MOL / MILLI if key == "glucose" else 1.0


def _amount_cells(fluid: Fluid, basis: Basis) -> Mapping[str, Cell]:
    values = {q.key: amount(fluid.composition, q, basis) for q in QUANTITIES}
    cells = {
        key: Cell(value, NOT_ON_LABEL if value is None else "") for key, value in values.items()
    }
    if basis is PER_LITRE:
        return cells
    return {WATER.key: Cell(basis.litres * ML_PER_L / basis.per_kg), **cells}


def _figure_cells(fluid: Fluid, plasma_sodium_mmol_l: float) -> Mapping[str, Cell]:
    computed = figures(fluid.composition, plasma_sodium_mmol_l=plasma_sodium_mmol_l)
    labelled = {
        "osmolarity_labelled": fluid.osmolarity_labelled_mosm_l,
        "energy": fluid.energy_kcal_l,
        "ph": fluid.ph.typical,
    }
    return {
        **{f.key: Cell(f.value, "" if f.value is not None else f.working, f.working)
           for f in computed},
        **{key: Cell(value, NOT_ON_LABEL if value is None else "")
           for key, value in labelled.items()},
    }  # fmt: skip


def _against(cells: Mapping[str, Cell], plasma: Mapping[str, Cell]) -> Mapping[str, Cell]:
    """Cells with their difference from plasma and their place against its range."""
    return {key: _placed(cell, plasma.get(key)) for key, cell in cells.items()}


def _placed(cell: Cell, reference: Cell | None) -> Cell:
    if cell.value is None or reference is None or reference.value is None:
        return cell
    return replace(
        cell, difference=cell.value - reference.value, place=_place(cell.value, reference)
    )


def _place(value: float, reference: Cell) -> str:
    if reference.low is None or reference.high is None:
        return ""
    if value < reference.low:
        return "below"
    return "above" if value > reference.high else "within"


def _row(head: RowHead, columns: tuple[Column, ...], need: DailyNeed | None = None) -> Row:
    cells = tuple(column.cells.get(head.key) or _empty(column) for column in columns)
    of_fluids = [
        (column.heading, cell)
        for column, cell in zip(columns, cells, strict=True)
        if column.kind == "fluid"
    ]
    absent = tuple(heading for heading, cell in of_fluids if cell.value == 0)
    is_absence_news = any(cell.value for cell in cells) and head in AMOUNT_HEADS
    return Row(
        head, cells, _are_equal([cell for _, cell in of_fluids]),
        absent if is_absence_news else (), need,
    )  # fmt: skip


def _empty(column: Column) -> Cell:
    return Cell(None, NOT_KNOWN if column.kind == "patient" else NOT_COUNTED)


def _are_equal(cells: list[Cell]) -> bool:
    values = [cell.value for cell in cells]
    known = [value for value in values if value is not None]
    if len(known) < len(values):
        return not known
    return not known or max(known) - min(known) < EQUAL_WITHIN


def _is_held(row: Row) -> bool:
    """True when any column holds some of it, or does not say."""
    is_figure = row.head in FIGURE_HEADS
    return any(
        bool(cell.value) or cell.why == NOT_ON_LABEL or (is_figure and cell.value is not None)
        for cell in row.cells
    )
