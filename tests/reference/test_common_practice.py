"""Figures every ward knows. Common practice, no source.

A second sight against a slip that balances: sodium about 154, 140 and 130; where calcium, potassium
and glucose are and are not.
"""

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition


def litre(catalogue: Catalogue, fluid_id: str) -> Composition:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return fluid.composition


@pytest.mark.parametrize(
    ("fluid_id", "about"),
    [
        ("sodium-chloride-0.9", 154),
        ("multiple-electrolytes-type-1-ph-7.4", 140),
        ("lactated-ringers", 130),
        ("compound-sodium-lactate", 130),
        ("ringers-acetate", 130),
    ],
)
def test_sodium_is_near_the_figure_every_ward_knows(
    catalogue: Catalogue, fluid_id: str, about: float
) -> None:
    assert litre(catalogue, fluid_id).sodium_mmol_l == pytest.approx(about, abs=1.5)


@pytest.mark.parametrize(
    "fluid_id",
    [
        "multiple-electrolytes-type-1-ph-7.4",
        "multiple-electrolytes-type-1-ph-5.5",
        "multiple-electrolytes-type-1-phosphate",
        "sodium-chloride-0.9",
        "glucose-5",
    ],
)
def test_no_calcium_in_the_acetate_gluconate_fluids_nor_in_saline(
    catalogue: Catalogue, fluid_id: str
) -> None:
    assert litre(catalogue, fluid_id).calcium_mmol_l == 0


@pytest.mark.parametrize(
    "fluid_id",
    ["lactated-ringers", "compound-sodium-lactate", "ringers-injection", "ringers-acetate",
     "acetated-ringers", "acetate-malate-balanced", "gelatin-4-balanced",
     "dextrose-5-lactated-ringers"],
)  # fmt: skip
def test_every_fluid_of_the_ringers_kind_holds_calcium(catalogue: Catalogue, fluid_id: str) -> None:
    assert litre(catalogue, fluid_id).calcium_mmol_l > 0


def test_balanced_fluids_hold_four_or_five_of_potassium(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        if fluid.is_buffered and fluid.composition.sodium_mmol_l in (130, 131, 140, 145):
            assert fluid.composition.potassium_mmol_l in (4, 5, 24), fluid.id


def test_us_dextrose_holds_a_tenth_less_sugar_than_uk_glucose(catalogue: Catalogue) -> None:
    us, uk = litre(catalogue, "dextrose-5"), litre(catalogue, "glucose-5")
    assert us.glucose_g_l == uk.glucose_g_l == 50
    assert us.glucose_anhydrous_g_l / uk.glucose_anhydrous_g_l == pytest.approx(0.909, abs=0.001)


def test_chloride_of_balanced_fluids_lies_between_plasma_and_saline(catalogue: Catalogue) -> None:
    balanced = ("lactated-ringers", "compound-sodium-lactate", "ringers-acetate")
    for fluid_id in balanced:
        assert 103 < (litre(catalogue, fluid_id).chloride_mmol_l or 0) < 154
