import pytest

from app.chemistry.composition import Composition
from app.review.ledger.amounts import (
    COLUMNS,
    NONE,
    Amounts,
    Row,
    amounts_of,
    dissolved,
    not_labelled,
    smallest,
    total_of,
)

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)


def test_half_a_litre_of_saline_brings_77_of_each() -> None:
    brought = amounts_of(SALINE, 500)
    assert (brought.water_ml, brought.sodium_mmol, brought.chloride_mmol) == (500, 77, 77)


def test_glucose_is_anhydrous_and_gives_4_kcal_a_gram_unless_the_label_says() -> None:
    dextrose = Composition(glucose_g_l=50, glucose_monohydrate=True)
    brought = amounts_of(dextrose, 1000)
    assert brought.glucose_g == pytest.approx(45.46, abs=0.01)
    assert brought.energy_kcal == pytest.approx(4 * brought.glucose_g)
    assert amounts_of(dextrose, 500, kcal_l=170).energy_kcal == 85


def test_a_chloride_on_no_label_is_told_not_taken_as_none() -> None:
    assert not_labelled(Composition(chloride_mmol_l=None)) == {"chloride_mmol"}
    assert not_labelled(SALINE) == frozenset()


def test_what_is_dissolved_brings_no_water_of_its_own() -> None:
    brought = dissolved(Composition(potassium_mmol_l=20, chloride_mmol_l=20), 3)
    assert (brought.water_ml, brought.potassium_mmol, brought.chloride_mmol) == (0, 60, 60)


def test_rows_add_up_and_no_rows_are_nothing() -> None:
    rows = [Row("o1", "fluid", "a", Amounts(100, 1)), Row("o2", "flush", "b", Amounts(20, 3))]
    assert total_of(rows) == Amounts(120, 4)
    assert total_of([]) == NONE


def test_the_least_of_several_is_taken_column_by_column() -> None:
    assert smallest([Amounts(5, 9), Amounts(7, 2)]) == Amounts(5, 2)


def test_times_and_of_see_every_column() -> None:
    doubled = Amounts(*range(len(COLUMNS))).times(2)
    assert [doubled.of(column) for column in COLUMNS] == [2 * n for n in range(len(COLUMNS))]
