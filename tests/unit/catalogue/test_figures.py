"""Computed figures and the numbers put into their formulas."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.figures import FIGURES, Figure, Term, figures, sum_text, written


def figure(catalogue: Catalogue, fluid_id: str, key: str) -> Figure:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return next(f for f in figures(fluid.composition) if f.key == key)


@pytest.mark.parametrize(
    ("fluid_id", "key", "working"),
    [
        ("lactated-ringers", "strong_ion_difference", "130 + 4 + 2 × 1.35 − 109 = 27.7"),
        ("lactated-ringers", "charge_gap", "130 + 4 + 2 × 1.35 − 109 − 28 = −0.3"),
        ("acetate-malate-balanced", "strong_ion_difference",
         "145 + 4 + 2 × 2.5 + 2 × 1 − 127 = 29"),
        ("dextrose-5-sodium-chloride-0.45", "osmolarity",
         "77 + 77 + 50 × 1000 / 198.17 = 406.31"),
        ("glucose-5", "osmolarity", "50 × 1000 / 180.16 = 277.53"),
        ("dextrose-5", "tonicity", "0"),
        ("sodium-chloride-3", "electrolyte_free_water", "1 − (513 + 0) / 140 = −2.664"),
        ("lactated-ringers", "electrolyte_free_water_edelman",
         "1 − 1.03 × (130 + 4) / (140 + 23.8) = 0.157"),
        ("multiple-electrolytes-type-1-ph-7.4", "bicarbonate_equivalents_no_gluconate",
         "140 + 5 + 2 × 1.5 − 98 − 23 = 27"),
        ("magnesium-sulfate-50", "strong_ion_difference", "2 × 2030 − 2 × 2030 = 0"),
    ],
)  # fmt: skip
def test_the_working_of_a_figure_has_the_labels_numbers_in_it(
    catalogue: Catalogue, fluid_id: str, key: str, working: str
) -> None:
    assert figure(catalogue, fluid_id, key).working == working


def test_the_charge_of_gelatin_is_taken_off_as_bicarbonate(catalogue: Catalogue) -> None:
    found = figure(catalogue, "gelatin-4", "bicarbonate_equivalents")
    assert (found.value, found.working) == (0, "154 − 120 − 34 = 0")


def test_a_fluid_without_a_labelled_chloride_says_what_is_missing(catalogue: Catalogue) -> None:
    found = figure(catalogue, "albumin-5", "strong_ion_difference")
    assert found.value is None
    assert "no chloride on the label" in found.working


def test_free_water_is_counted_against_the_patients_own_sodium(catalogue: Catalogue) -> None:
    saline = catalogue.get("sodium-chloride-0.9")
    assert saline is not None
    computed = {f.key: f.value for f in figures(saline.composition, plasma_sodium_mmol_l=154)}
    assert computed["electrolyte_free_water"] == 0


def test_every_figure_has_a_formula_and_comes_in_one_order(catalogue: Catalogue) -> None:
    assert all(f.formula for f in FIGURES)
    for fluid in catalogue:
        assert [f.key for f in figures(fluid.composition)] == [f.key for f in FIGURES]


def test_every_working_ends_in_the_figure_it_explains(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        for found in figures(fluid.composition):
            if found.value is None:
                continue
            end = found.working.split(" = ")[-1].replace("−", "-")
            assert float(end) == pytest.approx(found.value, abs=0.006), (fluid.id, found)


def test_numbers_are_written_without_trailing_zeros_or_minus_nothing() -> None:
    assert [written(v) for v in (1.5, 2.0, -0.3, -0.0001, 1000.0)] == [
        "1.5", "2", "−0.3", "0", "1000",
    ]  # fmt: skip


def test_a_sum_of_nothing_is_nothing() -> None:
    assert sum_text((Term(1, 0), Term(-2, 0))) == "0"
    assert sum_text((Term(1, 7),)) == "7"
