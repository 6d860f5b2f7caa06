"""Fluids beside each other."""

import pytest

from app.catalogue.amounts import PER_LITRE, Basis, in_bag, per_day
from app.catalogue.catalogue import Catalogue
from app.catalogue.comparison import Beside, Cell, Comparison, Row, compare
from app.catalogue.fluid import Fluid
from app.storage.seed_files import read_plasma

PLASMA = Beside(read_plasma())


def fluids(catalogue: Catalogue, *ids: str) -> list[Fluid]:
    return [fluid for fluid in map(catalogue.get, ids) if fluid]


def two(catalogue: Catalogue, beside: Beside = PLASMA, basis: Basis = PER_LITRE) -> Comparison:
    chosen = fluids(catalogue, "sodium-chloride-0.9", "lactated-ringers")
    return compare(chosen, beside, basis=basis)


def row(comparison: Comparison, key: str) -> Row:
    return next(r for r in (*comparison.amounts, *comparison.figures) if r.head.key == key)


def cell(comparison: Comparison, column: str, key: str) -> Cell:
    at = [c.key for c in comparison.columns].index(column)
    return row(comparison, key).cells[at]


def test_plasma_comes_first_then_the_fluids_as_asked(catalogue: Catalogue) -> None:
    assert [c.key for c in two(catalogue).columns] == [
        "plasma", "sodium-chloride-0.9", "lactated-ringers",
    ]  # fmt: skip


def test_chloride_of_saline_stands_51_above_plasma(catalogue: Catalogue) -> None:
    found = cell(two(catalogue), "sodium-chloride-0.9", "chloride")
    assert (found.value, found.difference, found.place) == (154, 51, "above")


def test_plasmas_cell_carries_its_range(catalogue: Catalogue) -> None:
    found = cell(two(catalogue), "plasma", "potassium")
    assert (found.low, found.value, found.high) == (3.5, 4.2, 5.3)
    assert found.difference is None


def test_what_a_fluid_lacks_is_named_in_the_row(catalogue: Catalogue) -> None:
    comparison = two(catalogue)
    assert row(comparison, "calcium").absent_in == ("0.9% sodium chloride",)
    assert row(comparison, "sodium").absent_in == ()


def test_rows_that_nobody_holds_are_left_out(catalogue: Catalogue) -> None:
    keys = [r.head.key for r in two(catalogue).amounts]
    assert "gluconate" not in keys
    assert keys.index("sodium") < keys.index("chloride") < keys.index("lactate")


def test_equal_rows_are_marked_and_left_out_of_the_differences(catalogue: Catalogue) -> None:
    pair = fluids(
        catalogue, "multiple-electrolytes-type-1-ph-7.4", "multiple-electrolytes-type-1-ph-5.5"
    )
    comparison = compare(pair, PLASMA)
    assert row(comparison, "sodium").is_equal
    assert [r.head.key for r in comparison.differing] == ["ph"]


def test_a_computed_figure_carries_its_working_and_formula(catalogue: Catalogue) -> None:
    comparison = two(catalogue)
    found = cell(comparison, "lactated-ringers", "strong_ion_difference")
    assert found.working == "130 + 4 + 2 × 1.35 − 109 = 27.7"
    assert "Na + K" in row(comparison, "strong_ion_difference").head.formula


def test_in_a_bag_only_the_bags_amounts_are_counted(catalogue: Catalogue) -> None:
    comparison = two(catalogue, basis=in_bag(250))
    assert cell(comparison, "sodium-chloride-0.9", "sodium").value == 38.5
    assert cell(comparison, "plasma", "sodium").why == "not counted here"
    assert cell(comparison, "sodium-chloride-0.9", "water").value == 250
    assert cell(comparison, "sodium-chloride-0.9", "sodium").difference is None


def test_figures_stay_per_litre_whatever_the_basis(catalogue: Catalogue) -> None:
    comparison = two(catalogue, basis=in_bag(250))
    assert cell(comparison, "lactated-ringers", "strong_ion_difference").value == pytest.approx(
        27.7
    )


def test_a_day_at_100_ml_an_hour_is_laid_beside_the_need(catalogue: Catalogue) -> None:
    comparison = two(catalogue, Beside(weight_kg=70), per_day(100))
    sodium = row(comparison, "sodium")
    assert sodium.cells[0].value == pytest.approx(369.6)
    assert sodium.need is not None
    assert (sodium.need.low, sodium.need.high) == (70, 70)
    water = row(comparison, "water")
    assert water.need is not None
    assert (water.cells[0].value, water.need.high) == (2400, 2100)


@pytest.mark.parametrize("basis", [PER_LITRE, in_bag(500), per_day(100, weight_kg=70)])
def test_needs_are_shown_only_beside_a_whole_day(catalogue: Catalogue, basis: Basis) -> None:
    comparison = two(catalogue, Beside(weight_kg=70), basis)
    assert all(r.need is None for r in comparison.amounts)


def test_the_patients_own_results_are_a_column_against_plasma(catalogue: Catalogue) -> None:
    beside = Beside(read_plasma(), {"sodium": 128, "calcium_ionised": 1.0, "glucose": 20})
    comparison = two(catalogue, beside)
    sodium = cell(comparison, "patient", "sodium")
    assert (sodium.value, sodium.difference, sodium.place) == (128, -12, "below")
    assert cell(comparison, "patient", "calcium").place == "below"
    assert cell(comparison, "patient", "glucose").value == pytest.approx(3.6, abs=0.01)


def test_a_result_the_patient_lacks_is_not_known_rather_than_normal(catalogue: Catalogue) -> None:
    comparison = two(catalogue, Beside(read_plasma(), {"sodium": 128}))
    found = cell(comparison, "patient", "potassium")
    assert (found.value, found.why) == (None, "not known")


def test_free_water_uses_the_patients_sodium(catalogue: Catalogue) -> None:
    comparison = two(catalogue, Beside(read_plasma(), {"sodium": 154}))
    assert cell(comparison, "sodium-chloride-0.9", "electrolyte_free_water").value == 0


def test_a_figure_that_is_not_on_the_label_says_so(catalogue: Catalogue) -> None:
    comparison = compare(fluids(catalogue, "albumin-20", "sodium-chloride-0.9"))
    found = cell(comparison, "albumin-20", "chloride")
    assert (found.value, found.why) == (None, "not on the label")
    assert not row(comparison, "chloride").is_equal


def test_every_cell_is_a_figure_or_says_why_not(catalogue: Catalogue) -> None:
    comparison = compare(tuple(catalogue), Beside(read_plasma(), {}, 70), basis=per_day(80))
    for one in (*comparison.amounts, *comparison.figures):
        for found in one.cells:
            assert (found.value is None) == bool(found.why), one.head.key
