"""Electrolyte-free water: the simple form and the one by Edelman's line.

Rose, Am J Med 1986;81:1033 (from memory); Nguyen and Kurtz, Am J Physiol Renal 2005;288:F1
(abstract seen: isonatric when Na + K = 0.97 plasma Na + 23.1). Examples by hand, plasma sodium
140, 1 L.
"""

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.chemistry.water import electrolyte_free_water_edelman_l, electrolyte_free_water_l

PLASMA_SODIUM = 140


@pytest.mark.parametrize(
    ("fluid_id", "simple_l", "edelman_l"),
    [
        ("dextrose-5-sodium-chloride-0.45", 0.450, 0.516),
        ("potassium-chloride-20-sodium-chloride-0.45", 0.307, 0.390),
        ("lactated-ringers", 0.043, 0.157),
        ("dextrose-5", 1.0, 1.0),
        ("sodium-chloride-3", -2.664, -2.226),
    ],
)
def test_free_water_in_a_litre(
    catalogue: Catalogue, fluid_id: str, simple_l: float, edelman_l: float
) -> None:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    composition = fluid.composition
    simple = electrolyte_free_water_l(composition, 1, PLASMA_SODIUM)
    edelman = electrolyte_free_water_edelman_l(composition, 1, PLASMA_SODIUM)
    assert simple == pytest.approx(simple_l, abs=0.0006)
    assert edelman == pytest.approx(edelman_l, abs=0.0006)


@pytest.mark.parametrize("sodium", [120, 140, 160])
def test_the_published_isonatric_fluid_holds_no_free_water(sodium: float) -> None:
    """The abstract rounds its two coefficients, so a few millilitres remain."""
    isonatric = Composition(sodium_mmol_l=0.97 * sodium + 23.1)
    assert electrolyte_free_water_edelman_l(isonatric, 1, sodium) == pytest.approx(0, abs=0.002)
