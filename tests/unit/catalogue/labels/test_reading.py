"""What a label says, however it says it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.labels.reading import LONGEST_LABEL, read_label


def told(text: str) -> list[tuple[str, str, str, float]]:
    return [(f.key, f.number, f.unit, f.basis_ml) for f in read_label(text).figures]


@pytest.mark.parametrize(
    "text",
    [
        "Sodium 130 mmol/L",
        "Na+ 130 mmol/l",
        "130 mmol/L sodium",
        "Na⁺: 130 mmol per litre",
        "mmol/L: sodium 130",
        "Electrolytes (mmol per liter)\nSodium 130",
        "sodium (Na⁺) 130 mmol / L",
    ],
)
def test_one_ion_in_many_wordings(text: str) -> None:
    assert told(text) == [("sodium", "130", "mmol", 1000.0)]


def test_a_salt_is_no_ion() -> None:
    assert told("sodium chloride 9 g/L") == [("sodium_chloride", "9", "g", 1000.0)]


def test_the_unit_and_volume_at_the_end_hold_for_the_whole_list() -> None:
    assert told("Na 77, Cl 77 mmol per 500 mL") == [
        ("sodium", "77", "mmol", 500.0),
        ("chloride", "77", "mmol", 500.0),
    ]


def test_a_heading_holds_until_the_next() -> None:
    text = "Each 100 mL contains:\nsodium chloride 0.9 g\nmEq/liter:\nsodium 154\nchloride 154"
    assert told(text) == [
        ("sodium_chloride", "0.9", "g", 100.0),
        ("sodium", "154", "meq", 1000.0),
        ("chloride", "154", "meq", 1000.0),
    ]


def test_a_comma_may_be_a_point_or_part_a_thousand() -> None:
    assert told("1,000 mL contains: potassium chloride 0,3 g") == [
        ("potassium_chloride", "0.3", "g", 1000.0)
    ]


def test_a_range_is_one_figure() -> None:
    (figure,) = read_label("pH 5.0-7.0").figures
    assert (figure.number, figure.lower, figure.upper) == ("5.0", "5.0", "7.0")
    (figure,) = read_label("pH: 6.6 (6.0 to 7.5)").figures
    assert (figure.number, figure.lower, figure.upper) == ("6.6", "6.0", "7.5")


def test_osmolarity_is_of_a_litre_whatever_the_list_before_it() -> None:
    assert told("Each 100 mL contains: sodium chloride 0.9 g. Osmolarity 308 mOsmol")[1] == (
        "osmolarity", "308", "mosm", 1000.0,
    )  # fmt: skip


def test_a_number_without_a_unit_is_not_guessed() -> None:
    label = read_label("sodium 130")
    assert label.figures == ()
    assert label.unread == ("sodium 130",)


def test_a_salt_whose_water_is_left_open_gives_no_amount() -> None:
    (figure,) = read_label("sodium acetate 3.7 g/L").figures
    assert figure.name_kind == "unclear"


def test_a_number_of_something_else_is_no_figure() -> None:
    label = read_label("Store at 25 °C. Batch 1234. Expires 2033-01. Single use, 500 mL.")
    assert label.figures == ()


@given(st.text(max_size=400))
def test_any_text_is_read_without_a_fault(text: str) -> None:
    for figure in read_label(text).figures:
        assert figure.value >= 0
        assert figure.basis_ml >= 0


PIECES = (
    "sodium",
    "130",
    "mmol/L",
    "mEq",
    "per 100 mL",
    "pH",
    "-",
    "to",
    ";",
    ".",
    ",",
    "7.4",
    "0",
)


@given(st.lists(st.sampled_from(PIECES)))
def test_pieces_in_any_order_are_read_without_a_fault(pieces: list[str]) -> None:
    label = read_label(" ".join(pieces))
    assert all(figure.number for figure in label.figures)


def test_a_book_is_cut() -> None:
    text = " " * LONGEST_LABEL + "sodium 130 mmol/L"
    assert read_label(text).figures == ()


@pytest.mark.parametrize(
    "text",
    [
        "Na 137 K 4 Ca 1.65 Mg 1 Cl 110 acetate 36.8 mmol/L",
        "mmol/L: Na 137, K 4, Ca 1.65, Mg 1, Cl 110, acetate 36.8",
        "Na 137 mmol/L K 4 mmol/L Ca 1.65 mmol/L Mg 1 mmol/L Cl 110 mmol/L acetate 36.8 mmol/L",
    ],
)
def test_magnesium_by_its_letters_is_never_taken_for_milligrams(text: str) -> None:
    read = {one.key: (one.number, one.unit) for one in read_label(text).figures}
    assert read == {
        "sodium": ("137", "mmol"), "potassium": ("4", "mmol"), "calcium": ("1.65", "mmol"),
        "magnesium": ("1", "mmol"), "chloride": ("110", "mmol"), "acetate": ("36.8", "mmol"),
    }  # fmt: skip


@pytest.mark.parametrize("written", ["mg", "MG", "Mg/L", "mg per litre"])
def test_milligrams_stay_milligrams(written: str) -> None:
    (one,) = read_label(f"Sodium chloride 600 {written}").figures
    assert (one.key, one.number, one.unit) == ("sodium_chloride", "600", "mg")
