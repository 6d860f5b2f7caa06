"""What a litre holds, as written."""

import pytest

from app.chemistry.composition import Composition
from app.intake.request import Problems, Reader
from app.review.predict.compositions import as_fluid, doubts_of, read_composition


def read(**amounts: object) -> Composition:
    problems = Problems()
    composition = read_composition(Reader(amounts, "composition", problems))
    problems.stop_if_any()
    return composition


def test_what_is_not_named_is_absent() -> None:
    composition = read(sodium_mmol_l=513, chloride_mmol_l="513")
    assert composition == Composition(sodium_mmol_l=513, chloride_mmol_l=513)
    assert as_fluid(composition).id == ""


def test_chloride_is_unknown_where_it_is_null_or_albumin_comes_without_it() -> None:
    assert read(sodium_mmol_l=140, chloride_mmol_l=None).chloride_mmol_l is None
    assert read(sodium_mmol_l=140, albumin_g_l=50).chloride_mmol_l is None
    assert read(glucose_g_l=50).chloride_mmol_l == 0


def test_charges_that_do_not_balance_are_said() -> None:
    (said,) = doubts_of(Composition(sodium_mmol_l=154, chloride_mmol_l=100))
    assert "positive charges are 54 mEq/L more" in said
    (said,) = doubts_of(Composition(sodium_mmol_l=100, chloride_mmol_l=154))
    assert "negative" in said


@pytest.mark.parametrize(
    "sound",
    [
        Composition(sodium_mmol_l=154, chloride_mmol_l=154),
        Composition(sodium_mmol_l=140, chloride_mmol_l=128, albumin_g_l=40),
        Composition(sodium_mmol_l=154, chloride_mmol_l=120, gelatin_g_l=40),
        Composition(sodium_mmol_l=145, chloride_mmol_l=None, albumin_g_l=200),
        Composition(glucose_g_l=50),
    ],
)
def test_a_colloid_may_fill_the_charges(sound: Composition) -> None:
    assert not list(doubts_of(sound))
