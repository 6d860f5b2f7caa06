"""The table equals the catalogue to the digit, and says in words what is not a number."""

from datetime import UTC, datetime

import pytest

from app.catalogue.amounts import PER_LITRE, Basis, in_bag, per_day
from app.catalogue.catalogue import Catalogue
from app.catalogue.comparison import Beside, Comparison, compare
from app.catalogue.stock.stock import Stock, StockState
from app.web.comparison.bedside import OwnResults
from app.web.comparison.table import (
    Besides,
    CellView,
    RowView,
    Table,
    amounts_table,
    figures_table,
)
from app.web.fluids.reference import adult_plasma
from app.web.fluids.shelf import Shelf

THREE = ("sodium-chloride-0.9", "lactated-ringers", "multiple-electrolytes-type-1-ph-7.4")
NOBODY = Besides()
POTASSIUM_59 = OwnResults({"potassium": 5.9}, {"potassium": "2 h old"}, {"sodium": "no result"})


def side_by_side(
    catalogue: Catalogue,
    *ids: str,
    basis: Basis = PER_LITRE,
    own: OwnResults | None = None,
    weight_kg: float | None = None,
) -> Comparison:
    fluids = [fluid for fluid in map(catalogue.get, ids) if fluid is not None]
    beside = Beside(adult_plasma(), None if own is None else own.values, weight_kg)
    return compare(fluids, beside, basis=basis)


def row(table: Table, key: str) -> RowView:
    return next(row for row in table.rows if row.key == key)


def figures(row: RowView) -> list[str]:
    return [str(cell.figure) if cell.figure else cell.words for cell in row.cells]


def below(cell: CellView) -> str:
    return "" if cell.below is None else str(cell.below)


@pytest.fixture
def litre(catalogue: Catalogue) -> Table:
    return amounts_table(side_by_side(catalogue, *THREE), NOBODY, differences=False)


def test_plasma_stands_first_and_then_the_fluids(litre: Table) -> None:
    assert [heading.kind for heading in litre.headings] == ["plasma", *["fluid"] * 3]
    assert [heading.fluid_id for heading in litre.headings[1:]] == list(THREE)


def test_what_a_fluid_lacks_is_said_aloud(litre: Table) -> None:
    assert figures(row(litre, "calcium"))[1:] == ["none", "1.35", "none"]


def test_calcium_stands_in_mmol_and_in_meq(litre: Table) -> None:
    charge = row(litre, "calcium_charge")
    assert charge.unit == "mEq/L"
    assert figures(charge)[2] == "2.7"
    assert row(litre, "calcium").unit == "mmol/L"


def test_a_difference_from_plasma_is_signed(litre: Table) -> None:
    assert [below(cell) for cell in row(litre, "chloride").cells[1:]] == ["+51", "+6", "−5"]
    assert below(row(litre, "sodium").cells[3]) == "same"


def test_plasma_shows_its_range(litre: Table) -> None:
    assert below(row(litre, "sodium").cells[0]) == "135 to 145"


def test_every_amount_equals_the_catalogue(litre: Table, catalogue: Catalogue) -> None:
    for at, fluid_id in enumerate(THREE, start=1):
        fluid = catalogue.get(fluid_id)
        assert fluid is not None
        for key in ("sodium", "potassium", "chloride", "lactate", "acetate"):
            shown = figures(row(litre, key))[at]
            assert (0 if shown == "none" else float(shown)) == fluid.composition.ion_mmol_l(key)


def test_chloride_that_no_label_gives_is_not_called_none(catalogue: Catalogue) -> None:
    table = amounts_table(side_by_side(catalogue, "albumin-20"), NOBODY, differences=False)
    assert figures(row(table, "chloride"))[1] == "not on the label"


def test_differences_only_folds_what_all_fluids_share(catalogue: Catalogue) -> None:
    comparison = side_by_side(catalogue, *THREE)
    table = amounts_table(comparison, NOBODY, differences=True)
    assert "phosphate" not in {row.key for row in table.rows}
    assert "Phosphate none" in table.folded


def test_three_fluids_differ_in_few_enough_rows_to_take_in(catalogue: Catalogue) -> None:
    table = amounts_table(side_by_side(catalogue, *THREE), NOBODY, differences=True)
    ions = [row for row in table.rows if not row.key.endswith("_charge")]
    assert len(ions) <= 8


def test_the_row_of_a_finding_comes_first(catalogue: Catalogue) -> None:
    besides = Besides(tied=frozenset({"potassium"}))
    table = amounts_table(side_by_side(catalogue, *THREE), besides, differences=False)
    assert table.rows[0].key == "potassium"
    assert table.rows[0].note == "a finding is about this"


def test_a_patient_s_result_has_its_age_and_is_marked_when_out_of_range(
    catalogue: Catalogue,
) -> None:
    comparison = side_by_side(catalogue, *THREE, own=POTASSIUM_59)
    table = amounts_table(comparison, Besides(POTASSIUM_59), differences=False)
    own = row(table, "potassium").cells[1]
    assert str(own.figure) == "5.9"
    assert below(own) == "2 h old, over the adult range"
    assert own.outside


def test_a_result_that_is_lacking_says_why(catalogue: Catalogue) -> None:
    comparison = side_by_side(catalogue, *THREE, own=POTASSIUM_59)
    table = amounts_table(comparison, Besides(POTASSIUM_59), differences=False)
    assert row(table, "sodium").cells[1].words == "no result"


def test_a_bag_is_told_with_the_litre_under_it(catalogue: Catalogue) -> None:
    fluids = [fluid for fluid in map(catalogue.get, THREE) if fluid is not None]
    besides = Besides(second=compare(fluids), second_word="per litre")
    bag = side_by_side(catalogue, *THREE, basis=in_bag(250))
    table = amounts_table(bag, besides, differences=False)
    sodium = row(table, "sodium").cells[0]
    assert (str(sodium.figure), below(sodium)) == ("38.5", "154 per litre")
    assert {heading.kind for heading in table.headings} == {"fluid"}


def test_a_day_at_100_ml_h_stands_beside_an_adult_s_need(catalogue: Catalogue) -> None:
    fluids = [fluid for fluid in map(catalogue.get, THREE) if fluid is not None]
    besides = Besides(
        second=compare(fluids, basis=per_day(100, weight_kg=70)), second_word="per kg"
    )
    day = side_by_side(catalogue, *THREE, basis=per_day(100), weight_kg=70)
    table = amounts_table(day, besides, differences=False)
    sodium = row(table, "sodium")
    assert (str(sodium.cells[0].figure), below(sodium.cells[0])) == ("369.6", "5.28 per kg")
    assert sodium.need == "about 70 mmol"
    assert row(table, "water").need == "1,750 to 2,100 mL"
    assert table.needs


def test_a_computed_figure_carries_formula_and_numbers(catalogue: Catalogue) -> None:
    table = figures_table(side_by_side(catalogue, *THREE), NOBODY, differences=False)
    gap = row(table, "strong_ion_difference")
    assert gap.formula.startswith("Na + K + 2 Ca + 2 Mg − Cl")
    assert ("Lactated Ringer's (US)", "130 + 4 + 2 × 1.35 − 109 = 27.7") in gap.workings


def test_ph_keeps_both_its_decimals(catalogue: Catalogue) -> None:
    table = figures_table(side_by_side(catalogue, *THREE), NOBODY, differences=False)
    assert below(row(table, "ph").cells[0]) == "7.35 to 7.45"


def test_how_well_the_label_balances_is_left_to_the_card(catalogue: Catalogue) -> None:
    table = figures_table(side_by_side(catalogue, *THREE), NOBODY, differences=False)
    assert "charge_gap" not in {row.key for row in table.rows}


def test_a_heading_says_where_its_fluid_is(catalogue: Catalogue) -> None:
    now = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
    stock = Stock({"lactated-ringers": StockState("out", now, "lorry late")})
    besides = Besides(shelf=Shelf(stock, now))
    for made in (amounts_table, figures_table):
        table = made(side_by_side(catalogue, *THREE), besides, differences=False)
        words = {heading.fluid_id: heading.stock.words for heading in table.headings}
        assert words["lactated-ringers"] == "out since 07:05"
        assert words["sodium-chloride-0.9"] == words[""] == ""
