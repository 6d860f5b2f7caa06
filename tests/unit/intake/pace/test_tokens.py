"""Words of a rate as tokens of a class."""

import pytest

from app.intake.pace.tokens import line_of


@pytest.mark.parametrize(
    ("said", "letters"),
    [
        ("125 ml/h", "NV/H"), ("2 ml/kg/h", "NV/K/H"), ("8/24", "L"), ("1/2 ns", "N/Nw"),
        ("8-hourly", "NY"), ("50-150", "NRN"), ("20 mmol in 100 ml", "NMONV"),
        ("d5 at 50", "wN@N"), ("0.9% saline over 8 h", "NPwONH"), ("x3", "XN"),
        ("30/60", "L"), ("24/24 h", "N/NH"),
    ],
)  # fmt: skip
def test_each_word_has_its_class_and_fillers_none(said: str, letters: str) -> None:
    assert line_of(said).letters == letters


def test_one_slip_in_a_long_word_leaves_no_doubt_of_it() -> None:
    assert line_of("8 houtly").letters == "NY"
    assert line_of("8 house").letters == "Nw"


def test_a_share_of_the_day_is_its_length_in_hours() -> None:
    assert [line_of(said).tokens[0].value for said in ("6/24", "30/60", "2/7")] == [6, 0.5, 48]


def test_a_pint_is_the_bag_of_those_wards() -> None:
    assert line_of("1 pint").tokens[1].value == 500


def test_a_sign_that_counts_but_is_no_figure_is_a_word() -> None:
    assert line_of("፩ at 50").letters == "w@N"
