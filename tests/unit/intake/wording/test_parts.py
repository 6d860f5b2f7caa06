"""A name taken apart, as plain data."""

from app.intake.orders.quantities import Quantity
from app.intake.wording.parts import Recipe


def test_a_recipe_is_whole_when_every_word_has_its_place() -> None:
    assert Recipe((("saline", 0.9),), volumes_ml=(500,)).is_whole
    assert not Recipe(left=("moonlight",)).is_whole
    assert not Recipe(numbers=(125,)).is_whole
    assert not Recipe(spare=(Quantity(40, "mmol"),)).is_whole
