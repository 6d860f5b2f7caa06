"""Textbook shares: cells two thirds of body water, plasma a quarter of the rest. By hand."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.water import electrolyte_free_water_l
from app.physiology.compartments import spread_colloid, spread_crystalloid


@pytest.mark.parametrize(
    ("fluid", "plasma", "interstitial", "cells"),
    [
        ("sodium-chloride-0.9", 250, 750, 0),
        ("dextrose-5", 83.3, 250, 666.7),
        ("sodium-chloride-0.45", 166.7, 500, 333.3),
        ("lactated-ringers", 242.8, 728.6, 28.6),
    ],
)
def test_where_a_litre_goes(
    fluid: str, plasma: float, interstitial: float, cells: float, catalogue: Catalogue
) -> None:
    entry = catalogue.get(fluid)
    assert entry
    # The textbook counts free water against the sodium of 0.9% saline, not against plasma's.
    reference = 140 if fluid == "lactated-ringers" else 154
    free = electrolyte_free_water_l(entry.composition, 1, reference)
    spread = spread_crystalloid(1, free)
    worked = (spread.plasma_l * 1000, spread.interstitial_l * 1000, spread.cells_l * 1000)
    assert worked == pytest.approx((plasma, interstitial, cells), abs=0.1)


def test_a_colloid_starts_in_plasma() -> None:
    assert spread_colloid(1).plasma_l == 1
