"""What a name says twice, or in another measure."""

import pytest

from app.intake.recipe import recipe_of
from app.intake.vocabulary import Vocabulary
from app.intake.wording.parts import Recipe
from app.intake.wording.settled import settled


def read(text: str, vocabulary: Vocabulary, weight_kg: float | None = None) -> Recipe:
    return settled(recipe_of(text, vocabulary), weight_kg)


@pytest.mark.parametrize(
    ("written", "volume_ml"),
    [
        ("50% dextrose 25 g", 50), ("dextrose 25 g of 50%", 50), ("25% albumin 12.5 g", 50),
        ("mannitol 20% 1 g/kg", 350), ("mannitol (20%) 0.5 g/kg = 35 g", 175),
        ("albumin 20% 100 mL (20 g)", 100),
    ],
)  # fmt: skip
def test_grams_of_a_strong_fluid_are_its_volume(
    vocabulary: Vocabulary, written: str, volume_ml: float
) -> None:
    recipe = read(written, vocabulary, weight_kg=70)
    assert recipe.is_whole
    assert recipe.volumes_ml == pytest.approx((volume_ml,))


@pytest.mark.parametrize(
    "written", ["mannitol 20% 1 g/kg", "albumin 20% 100 mL (50 g)", "mannitol 20% 0.5 g/kg = 90 g"]
)
def test_grams_without_a_weight_or_that_contradict_are_left_over(
    vocabulary: Vocabulary, written: str
) -> None:
    assert not read(written, vocabulary, None if "1 g/kg" in written else 70).is_whole


@pytest.mark.parametrize("written", ["D5 .45", "D5 0.45%", "glucose 5% 0.45"])
def test_the_number_beside_glucose_is_the_share_of_salt(
    vocabulary: Vocabulary, written: str
) -> None:
    assert ("saline", 0.45) in read(written, vocabulary).parts


def test_a_bag_s_volume_may_stand_without_its_unit(vocabulary: Vocabulary) -> None:
    assert read("NS 1000", vocabulary).volumes_ml == (1000,)
    assert read("NS 125", vocabulary).numbers == (125,)


def test_an_amount_in_so_many_ml_tells_the_bag(vocabulary: Vocabulary) -> None:
    assert read("KCl 20 mmol/100 mL", vocabulary).volumes_ml == (100,)


def test_ampoules_are_not_counted_where_their_volume_is_written(vocabulary: Vocabulary) -> None:
    assert read("sodium bicarbonate 8.4% 100 mL (2 amps)", vocabulary).is_whole


def test_the_potassium_of_a_phosphate_is_not_counted_again(vocabulary: Vocabulary) -> None:
    (dose,) = read("potassium phosphate 15 mmol (22 mEq potassium) in 250 mL NS", vocabulary).doses
    assert dose.key == "potassium_phosphate"
    both = read("potassium phosphate 15 mmol and KCl 40 mEq in 1 L NS", vocabulary).doses
    assert len(both) == 2


def test_an_ampoule_of_strong_glucose_is_of_one_size(vocabulary: Vocabulary) -> None:
    assert read("1 amp D50", vocabulary).volumes_ml == (50,)
    assert not read("1 amp D10", vocabulary).volumes_ml
