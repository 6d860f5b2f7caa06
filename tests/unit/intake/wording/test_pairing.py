"""Amounts and the words they stand beside."""

import pytest

from app.intake.orders.quantities import Quantity
from app.intake.recipe import recipe_of
from app.intake.vocabulary import Vocabulary
from app.intake.wording.pairing import Pairing, counted


def test_each_amount_is_used_once() -> None:
    pairing = Pairing([Quantity(20, "mmol"), "of", "x", Quantity(5, "g")], frozenset())
    assert pairing.beside(2, ("mmol", "g")) == Quantity(20, "mmol")
    assert pairing.beside(2, ("mmol", "g")) == Quantity(5, "g")
    assert pairing.beside(2, ("mmol", "g")) is None


def test_what_belongs_to_nothing_is_told() -> None:
    rest = Pairing([Quantity(500, "mL"), Quantity(7, ""), "moon", "in"], frozenset({"in"})).rest()
    assert (rest.volumes_ml, rest.numbers, rest.left) == ((500,), (7,), ("moon",))
    assert not rest.is_whole


def test_an_amount_said_again_in_another_unit_goes_with_the_first(vocabulary: Vocabulary) -> None:
    (dose,) = recipe_of("magnesium sulfate 2 g (8 mmol) in 50 mL D5W", vocabulary).doses
    assert (dose.quantity, dose.also) == (Quantity(2, "g"), Quantity(8, "mmol"))


def test_the_end_of_a_range_is_no_second_amount(vocabulary: Vocabulary) -> None:
    assert recipe_of("NS 1 L + KCl 20-40 mmol", vocabulary).spare == (Quantity(40, "mmol"),)


@pytest.mark.parametrize(
    ("held", "total"),
    [
        (Quantity(50, "mEq", in_each=True), Quantity(150, "mEq")),
        (Quantity(50, "mEq"), Quantity(150, "mEq")),
        (Quantity(150, "mEq"), Quantity(150, "mEq")),
        (Quantity(30, "mEq"), Quantity(30, "mEq")),
        (Quantity(100, "mEq"), None),
        (Quantity(10, "mL"), None),
    ],
)
def test_three_ampoules_hold_what_is_said_of_each(held: Quantity, total: Quantity | None) -> None:
    assert counted(Quantity(3, "ampoule"), held, "sodium_bicarbonate") == total


def test_an_amount_that_may_be_that_of_one_or_of_all_is_not_read() -> None:
    two, held = Quantity(2, "ampoule"), Quantity(20, "mmol")
    assert counted(two, held, "potassium_chloride") is None
    assert counted(two, held, "magnesium_sulfate") is None


def test_a_bag_s_whole_amount_said_again_is_no_second_one(vocabulary: Vocabulary) -> None:
    recipe = recipe_of("potassium chloride 10 mEq/100 mL IVPB 10 mEq", vocabulary)
    assert recipe.is_whole and len(recipe.doses) == 1
