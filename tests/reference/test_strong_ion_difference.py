"""Strong ion difference and base load of fluids.

Stewart, Can J Physiol Pharmacol 1983;61:1444; Morgan, Clin Biochem Rev 2009;30:41; Carlesso et al.,
Intensive Care Med 2011;37:461. From memory; the figures are computed by hand from the labels.
"""

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.bicarbonate import bicarbonate_equivalents_mmol


@pytest.mark.parametrize(
    ("fluid_id", "meq_l"),
    [
        ("sodium-chloride-0.9", 0),
        ("ringers-injection", 0),
        ("lactated-ringers", 27.7),
        ("compound-sodium-lactate", 29),
        ("multiple-electrolytes-type-1-ph-7.4", 50),
        ("multiple-electrolytes-type-1-ph-5.5", 50),
        ("acetate-malate-balanced", 29),
        ("ringers-acetate", 27),
        ("sodium-bicarbonate-8.4", 1000),
        ("dextrose-5", 0),
        ("magnesium-sulfate-50", 0),
    ],
)
def test_the_strong_ion_difference_of_a_fluid(
    catalogue: Catalogue, fluid_id: str, meq_l: float
) -> None:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    assert fluid.composition.strong_ion_difference_meq_l == pytest.approx(meq_l, abs=1e-9)


def test_malate_is_not_counted_as_the_sum_of_organic_charges(catalogue: Catalogue) -> None:
    """24 acetate and 2 x 5 malate would make 34: malic acid brought protons of its own."""
    fluid = catalogue.get("acetate-malate-balanced")
    assert fluid is not None
    composition = fluid.composition
    assert composition.acetate_mmol_l + 2 * composition.malate_mmol_l == 34
    assert composition.strong_ion_difference_meq_l == 29


@pytest.mark.parametrize(
    ("fluid_id", "litres", "gluconate_used", "mmol"),
    [
        ("lactated-ringers", 2, 1.0, 55.4),
        ("multiple-electrolytes-type-1-ph-7.4", 3, 1.0, 150),
        ("multiple-electrolytes-type-1-ph-7.4", 3, 0.0, 81),
        ("sodium-bicarbonate-8.4", 0.1, 1.0, 100),
        ("sodium-chloride-0.9", 2, 1.0, 0),
    ],
)
def test_bicarbonate_equivalents_of_the_worked_examples(
    catalogue: Catalogue, fluid_id: str, litres: float, gluconate_used: float, mmol: float
) -> None:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    load = bicarbonate_equivalents_mmol(fluid.composition, litres, gluconate_used=gluconate_used)
    assert load == pytest.approx(mmol, rel=0.005, abs=1e-9)
