"""Labelled against calculated osmolarity, every fluid of the catalogue (labels: see each entry).

Labels add up mmol/L of every particle ("calc."), as we do. Tolerance 0.5% or 2 mOsm/L, the larger:
labels round ions before they add. Where they part, the entry says why, and here is the list.
"""

import pytest

from app.catalogue.catalogue import Catalogue

SHARE = 0.005
SLACK_MOSM_L = 2.0
# Fluid -> where the difference comes from. Anything else that parts fails.
PARTING = {"calcium-gluconate-10": "saccharate in place of some gluconate"}


def test_only_fluids_with_a_stated_reason_part_from_their_label(catalogue: Catalogue) -> None:
    parting = set()
    for fluid in catalogue:
        labelled, computed = fluid.osmolarity_labelled_mosm_l, fluid.composition.osmolarity_mosm_l
        if labelled is None or computed is None:
            continue
        if abs(labelled - computed) > max(SLACK_MOSM_L, SHARE * labelled):
            parting.add(fluid.id)
            assert "osmolarity" in dict(fluid.explained), fluid.id
    assert parting == set(PARTING)


def test_calcium_gluconate_follows_from_its_saccharate(catalogue: Catalogue) -> None:
    """98 mg gluconate monohydrate and 4.6 mg saccharate tetrahydrate in each mL (label, seen)."""
    gluconate, saccharate = 98_000 / 448.39, 4_600 / 320.27
    fluid = catalogue.get("calcium-gluconate-10")
    assert fluid is not None
    assert 3 * gluconate + 2 * saccharate == pytest.approx(
        fluid.osmolarity_labelled_mosm_l, rel=0.01
    )


@pytest.mark.parametrize(
    ("fluid_id", "osmolarity", "tonicity"),
    [
        ("lactated-ringers", 272.4, 272.4),
        ("dextrose-5-sodium-chloride-0.45", 406.3, 154),
        ("dextrose-5-lactated-ringers", 524.7, 272.4),
        ("potassium-chloride-20-dextrose-5-lactated-ringers", 564.7, 312.4),
        ("dextrose-5", 252.3, 0),
        ("glucose-5", 277.5, 0),
        ("mannitol-20", 1097.9, 1097.9),
        ("sodium-bicarbonate-8.4", 2000, 2000),
    ],
)
def test_osmolarity_and_tonicity_of_the_worked_examples(
    catalogue: Catalogue, fluid_id: str, osmolarity: float, tonicity: float
) -> None:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    assert fluid.composition.osmolarity_mosm_l == pytest.approx(osmolarity, abs=0.06)
    assert fluid.composition.tonicity_mosm_l == pytest.approx(tonicity, abs=0.06)
