"""Amounts: each conversion undoes the other, and a mixture lies between its parts."""

import pytest

from app.physiology.formulas.amounts import ANTICOAGULANT, CONVERSION, MIXTURE, STRENGTH


def test_millimoles_weigh_what_they_were_weighed_from() -> None:
    mmol, milligrams, meq, back = (part.work for part in CONVERSION.parts)
    grams = milligrams(salt_key="calcium_chloride", mmol=5) / 1000
    assert mmol(salt_key="calcium_chloride", grams=grams) == pytest.approx(5)
    assert back(key="calcium", meq=meq(key="calcium", mmol=5)) == 5


def test_a_mixture_lies_between_its_parts() -> None:
    strength, ion = (part.work for part in MIXTURE.parts)
    mixed = strength(bag_l=0.5, bag_mosm_l=308, added_l=0.01, added_mosm_l=4000)
    assert 308 < mixed < 4000
    assert ion(bag_l=1, added_l=1, added_mmol_l=40) == 20


def test_sugar_counts_in_osmolarity_alone() -> None:
    osmolarity, tonicity = (part.work for part in STRENGTH.parts)
    salt = {"sodium": 77, "potassium": 0, "calcium": 0, "chloride": 77}
    assert osmolarity(dextrose=0, **salt) == tonicity(dextrose=50, **salt) == 154


def test_a_higher_ratio_is_met_with_less_fluid() -> None:
    to_ratio = ANTICOAGULANT.parts[2].work
    four, eight = (to_ratio(citrate_mmol=6, ratio=r, calcium_mmol_l=1.35) for r in (4, 8))
    assert four == pytest.approx(2 * eight)
