"""The numbers of one piece of a label."""

import pytest

from app.catalogue.labels.values import Value, left_out, values_of
from app.catalogue.labels.words import tokens_of


def values(text: str) -> tuple[Value, ...]:
    return values_of(list(tokens_of(text))).found


def test_a_number_has_the_unit_and_the_volume_behind_it() -> None:
    assert values("sodium 154 mmol per 500 mL") == (Value("154", unit="mmol", basis_ml=500.0),)


def test_a_unit_in_front_is_of_the_number_behind_it() -> None:
    assert values("sodium, mmol/L: 154") == (Value("154", unit="mmol", basis_ml=1000.0),)


def test_a_range_behind_a_value_is_that_value_s() -> None:
    assert values("pH 6.6 (6.0 to 7.5)") == (Value("6.6", lower="6.0", upper="7.5"),)


def test_a_range_alone_begins_with_its_lower_end() -> None:
    assert values("sodium 130-160 mmol/L")[0] == Value(
        "130", lower="130", upper="160", unit="mmol", basis_ml=1000.0
    )


def test_two_units_of_one_figure_are_two_values_in_one_volume() -> None:
    one, other = values("potassium 20 mEq (20 mmol) per 1000 mL")
    assert (one.number, one.unit, one.basis_ml) == ("20", "meq", 1000.0)
    assert (other.number, other.unit, other.basis_ml) == ("20", "mmol", 1000.0)


def test_a_value_behind_another_word_is_of_something_strange() -> None:
    first, second = values("sodium chloride 9 g, glycine 15 g")
    assert first.strange == ""
    assert second.strange == "glycine"


def test_a_second_bare_number_belongs_to_nothing() -> None:
    found = values_of(list(tokens_of("sodium 130 65 mmol")))
    assert [one.number for one in found.found] == ["130"]
    assert found.left == ("65",)


@pytest.mark.parametrize(
    "words", ["not more than 2", "at most 2", "up to 2", "< 2", "≤ 2", "NMT 2"]
)
def test_an_upper_bound_is_no_amount(words: str) -> None:
    (value,) = values(f"potassium {words} mmol/L")
    assert (value.number, value.at_most) == ("2", True)


@pytest.mark.parametrize("words", ["not less than 2", "at least 2", "more than 2", "> 2", "≥2"])
def test_a_lower_bound_is_left_out_and_said(words: str) -> None:
    part = list(tokens_of(f"potassium {words} mmol/L"))
    assert values_of(part).found == ()
    assert left_out(part)
