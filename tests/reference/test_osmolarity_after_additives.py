"""Osmolarity of a bag after additives: volumes weighed by osmolarity.

Arithmetic by hand, no publication. Overfill (about 3 to 10%) is left out, so the figures are
estimates. Tolerance 0.5%.
"""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.chemistry.mixing import mixed, mixed_osmolarity_mosm_l

ARITHMETIC = 0.005


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


CASES = (
    ("lactated-ringers", "potassium-chloride-concentrate", 0.010, 309.9),
    ("dextrose-5-sodium-chloride-0.45", "potassium-chloride-concentrate", 0.020, 476.5),
    ("dextrose-5", "sodium-bicarbonate-8.4", 0.150, 480.0),
    ("sodium-chloride-0.9", "potassium-chloride-concentrate", 0.050, 483.8),
)


@pytest.mark.parametrize(("bag", "additive", "litres", "mosm_l"), CASES)
def test_osmolarity_of_a_litre_bag_with_an_additive(
    catalogue: Catalogue, bag: str, additive: str, litres: float, mosm_l: float
) -> None:
    first, second = fluid(catalogue, bag), fluid(catalogue, additive)
    assert first.osmolarity_mosm_l is not None
    assert second.osmolarity_mosm_l is not None
    by_label = mixed_osmolarity_mosm_l(
        [(1, first.osmolarity_mosm_l), (litres, second.osmolarity_mosm_l)]
    )
    by_ions = mixed(first.composition, 1, second.composition, litres).osmolarity_mosm_l
    assert by_label == pytest.approx(mosm_l, rel=ARITHMETIC)
    assert by_ions == pytest.approx(mosm_l, rel=ARITHMETIC)


def test_ions_of_the_mixtures(catalogue: Catalogue) -> None:
    alkaline = mixed(
        fluid(catalogue, "dextrose-5").composition, 1,
        fluid(catalogue, "sodium-bicarbonate-8.4").composition, 0.150,
    )  # fmt: skip
    potassium = mixed(
        fluid(catalogue, "sodium-chloride-0.9").composition, 1,
        fluid(catalogue, "potassium-chloride-concentrate").composition, 0.050,
    )  # fmt: skip
    assert alkaline.sodium_mmol_l == pytest.approx(130.4, rel=ARITHMETIC)
    assert potassium.potassium_mmol_l == pytest.approx(95.24, rel=ARITHMETIC)
