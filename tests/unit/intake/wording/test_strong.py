"""Strong fluids given as they are."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.recipe import recipe_of
from app.intake.vocabulary import Vocabulary
from app.intake.wording.known import KnownFluids
from app.intake.wording.settled import settled
from app.intake.wording.strong import holding_of, strong_fluid


@pytest.mark.parametrize(
    ("written", "fluid_id", "ml"),
    [
        ("10 mL of 10% calcium gluconate", "calcium-gluconate-10", 10),
        ("calcium gluconate 1 g", "calcium-gluconate-10", 10),
        ("50 mmol sodium bicarbonate 8.4%", "sodium-bicarbonate-8.4", 50),
        ("sodium bicarbonate 50 mmol (8.4%, 50 mL)", "sodium-bicarbonate-8.4", 50),
        ("magnesium sulfate 50% 2 g", "magnesium-sulfate-50", 4),
    ],
)
def test_an_ampoule_is_known_by_its_ml_or_by_what_is_in_it(
    catalogue: Catalogue, vocabulary: Vocabulary, written: str, fluid_id: str, ml: float
) -> None:
    recipe = settled(recipe_of(written, vocabulary))
    found = strong_fluid(recipe, KnownFluids(catalogue, vocabulary))
    assert found is not None
    assert found[0].id == fluid_id and found[1] == pytest.approx(ml, rel=0.05)


@pytest.mark.parametrize(
    "written",
    [
        "sodium bicarbonate 8.4% 100 mL (50 mmol)", "10 mL of 10% calcium gluconate in 100 mL NS",
        "potassium chloride 20 mmol", "sodium bicarbonate 3% 50 mmol", "0.9% NaCl 500 mL",
    ],
)  # fmt: skip
def test_what_contradicts_itself_or_is_diluted_is_none(
    catalogue: Catalogue, vocabulary: Vocabulary, written: str
) -> None:
    recipe = settled(recipe_of(written, vocabulary))
    assert strong_fluid(recipe, KnownFluids(catalogue, vocabulary)) is None


def test_an_amount_picks_the_fluid_that_holds_it_by_its_salt_before_all_it_holds(
    catalogue: Catalogue,
) -> None:
    salines = [fluid for fluid in catalogue if fluid.id.startswith("sodium-chloride")]
    assert [fluid.id for fluid in holding_of(salines, 154)] == ["sodium-chloride-0.9"]
    assert [fluid.id for fluid in holding_of(salines, 308)] == ["sodium-chloride-0.9"]
    assert not holding_of(salines, 200)
