"""How much, over which basis."""

import pytest

from app.catalogue.amounts import (
    PER_LITRE,
    QUANTITIES,
    amount,
    daily_needs,
    in_bag,
    pack_amounts,
    per_day,
)
from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid

BY_KEY = {quantity.key: quantity for quantity in QUANTITIES}


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    found = catalogue.get("sodium-chloride-0.9")
    assert found is not None
    return found


def test_154_mmol_per_litre_reads_38_and_a_half_in_250_ml(saline: Fluid) -> None:
    sodium = pack_amounts(saline)[0]
    assert (sodium.quantity.key, sodium.per_litre) == ("sodium", 154)
    assert dict(sodium.in_packs)[250] == 38.5


def test_a_pack_list_names_only_what_the_fluid_holds(saline: Fluid) -> None:
    assert [one.quantity.key for one in pack_amounts(saline)] == ["sodium", "chloride"]


def test_70_kg_at_100_ml_an_hour_of_saline_is_over_five_times_the_need(saline: Fluid) -> None:
    day = amount(saline.composition, BY_KEY["sodium"], per_day(100))
    per_kg = amount(saline.composition, BY_KEY["sodium"], per_day(100, weight_kg=70))
    assert day == pytest.approx(369.6)
    assert per_kg == pytest.approx(5.28)


def test_every_fluid_and_pack_holds_its_share_of_a_litre(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        for one in pack_amounts(fluid):
            for size, held in one.in_packs:
                expected = None if one.per_litre is None else one.per_litre * size / 1000
                assert held == pytest.approx(expected), (fluid.id, one.quantity.key, size)


def test_a_chloride_that_is_not_on_the_label_stays_unsaid_in_every_pack(
    catalogue: Catalogue,
) -> None:
    albumin = catalogue.get("albumin-20")
    assert albumin is not None
    chloride = next(one for one in pack_amounts(albumin) if one.quantity.key == "chloride")
    assert chloride.per_litre is None
    assert {held for _, held in chloride.in_packs} == {None}


def test_dextrose_is_counted_as_the_anhydrous_sugar_the_body_burns(catalogue: Catalogue) -> None:
    dextrose = catalogue.get("dextrose-5")
    assert dextrose is not None
    held = amount(dextrose.composition, BY_KEY["glucose"], PER_LITRE)
    assert held == pytest.approx(45.46, abs=0.01)


def test_a_70_kg_adult_needs_about_two_litres_and_70_mmol() -> None:
    needs = {need.key: (need.low, need.high) for need in daily_needs(70)}
    assert needs == {
        "water": (1750, 2100),
        "sodium": (70, 70),
        "potassium": (70, 70),
        "chloride": (70, 70),
        "glucose": (50, 100),
    }


def test_labels_say_what_the_amounts_are_counted_over() -> None:
    assert in_bag(250).label == "in 250 mL"
    assert per_day(125).label == "per day at 125 mL/h"
    assert per_day(125, weight_kg=70).label == "per kg per day at 125 mL/h"
