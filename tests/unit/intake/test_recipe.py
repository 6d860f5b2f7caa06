"""A fluid's name taken apart, whatever the order of its words."""

import pytest

from app.intake.orders.quantities import Quantity
from app.intake.recipe import Recipe, recipe_of
from app.intake.vocabulary import Vocabulary


def parts(text: str, vocabulary: Vocabulary) -> set[tuple[str, float | None]]:
    """The base parts of a name."""
    return set(recipe_of(text, vocabulary).parts)


@pytest.mark.parametrize(
    "written",
    ["5% dextrose in 0.45% saline", "dextrose 5% saline 0.45%", "0.45% saline 5% dextrose",
     "D5 half normal saline", "dextrose 5 % / sodium chloride 0.45 %"],
)  # fmt: skip
def test_the_order_of_the_words_does_not_matter(vocabulary: Vocabulary, written: str) -> None:
    assert parts(written, vocabulary) == {("dextrose", 5.0), ("saline", 0.45)}


@pytest.mark.parametrize(
    ("written", "amount", "unit", "per_litre"),
    [
        ("NS with KCl 20 mmol/L", 20.0, "mmol", True),
        ("NS with 20 mmol KCl per litre", 20.0, "mmol", True),
        ("NS with 20 mmol potassium chloride", 20.0, "mmol", False),
        ("NS with kcl20", 20.0, "", False),
        ("NS with KCl 20 mmol / 500 mL", 40.0, "mmol", True),
        ("NS with 1.5 g KCl", 1.5, "g", False),
    ],
)
def test_the_amount_belongs_to_what_stands_beside_it(
    vocabulary: Vocabulary, written: str, amount: float, unit: str, per_litre: bool
) -> None:
    (dose,) = recipe_of(written, vocabulary).doses
    assert dose.quantity is not None
    assert (dose.quantity.number, dose.quantity.unit) == (amount, unit)
    assert dose.quantity.per_litre is per_litre


def test_the_ml_beside_a_weak_strength_are_the_bag_s(vocabulary: Vocabulary) -> None:
    recipe = recipe_of("glucose 5% + KCl 0.3% 500 mL", vocabulary)
    assert recipe.volumes_ml == (500,) and recipe.doses[0].quantity is None


def test_an_amount_beside_a_written_strength_is_that_of_what_follows(
    vocabulary: Vocabulary,
) -> None:
    recipe = recipe_of("0.9% NaCl 20 mmol KCl", vocabulary)
    assert recipe.parts == (("saline", 0.9),)
    assert recipe.doses[0].quantity == Quantity(20, "mmol")


def test_the_ml_of_each_ampoule_are_counted(vocabulary: Vocabulary) -> None:
    written = "1 L Hartmann's + 3 amps bicarb (8.4%, 50 mL each)"
    (dose,) = recipe_of(written, vocabulary).doses
    assert (dose.percent, dose.quantity) == (8.4, Quantity(150, "mL"))


def test_a_word_that_means_nothing_is_left_over(vocabulary: Vocabulary) -> None:
    assert recipe_of("NS with moonlight", vocabulary).left == ("moonlight",)


def test_an_empty_name_is_an_empty_recipe(vocabulary: Vocabulary) -> None:
    assert recipe_of("", vocabulary) == Recipe()


def test_in_an_additive_the_word_for_both_is_what_is_added(vocabulary: Vocabulary) -> None:
    text = "20 mL of 8.4% bicarbonate"
    assert parts(text, vocabulary) == {("bicarbonate", 8.4)}
    (dose,) = recipe_of(text, vocabulary, adding=True).doses
    assert (dose.key, dose.percent) == ("sodium_bicarbonate", 8.4)


def test_an_ampoule_s_strength_is_no_strength_of_the_bag(vocabulary: Vocabulary) -> None:
    (dose,) = recipe_of("NS + KCl 20 mmol/10 mL", vocabulary).doses
    assert dose.quantity == Quantity(20, "mmol") and dose.mmol_ml == 2
    (poured,) = recipe_of("NS + 5 mL KCl 20 mmol/10 mL", vocabulary).doses
    assert poured.quantity == Quantity(5, "mL") and poured.mmol_ml == 2


@pytest.mark.parametrize(
    ("written", "by_day"), [("KCl 2 mmol/kg/day", "kg"), ("KCl 40 mmol/day", "whole"),
    ("KCl 40 mmol", "")]
)  # fmt: skip
def test_an_amount_a_day_is_heard(vocabulary: Vocabulary, written: str, by_day: str) -> None:
    (dose,) = recipe_of(f"NS with {written}", vocabulary).doses
    assert dose.quantity is not None and dose.quantity.by_day == by_day
