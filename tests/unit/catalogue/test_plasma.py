"""The reference column."""

import pytest

from app.catalogue.plasma import Plasma, plasma_from
from app.chemistry.errors import UnitError
from app.storage.seed_files import read_plasma


@pytest.fixture(scope="module")
def plasma() -> Plasma:
    return read_plasma()


def test_the_two_sides_of_the_column_are_of_one_height(plasma: Plasma) -> None:
    anions = sum(charge.meq_l for charge in plasma.anion_charges())
    assert anions == pytest.approx(plasma.composition.cations_meq_l)


def test_the_remainder_is_named_as_one_and_is_last(plasma: Plasma) -> None:
    charges = plasma.anion_charges()
    assert [charge.is_remainder for charge in charges] == [False] * 5 + [True]
    assert charges[-1].name == "other anions, not measured"


def test_the_remainder_is_a_plausible_few_milliequivalents(plasma: Plasma) -> None:
    assert 3 < plasma.unmeasured_anions_meq_l < 9


def test_albumin_of_42_g_per_litre_carries_near_twelve_charges(plasma: Plasma) -> None:
    assert plasma.albumin_charge_meq_l == pytest.approx(11.7, abs=0.1)


def test_typical_chloride_is_near_103_and_saline_lies_above(plasma: Plasma) -> None:
    chloride = plasma.get("chloride")
    assert chloride is not None
    assert (chloride.typical, chloride.place_of(154)) == (103, "above")
    assert (chloride.place_of(94), chloride.place_of(95)) == ("below", "within")


def test_every_value_names_its_source(plasma: Plasma) -> None:
    assert all(value.source.work for value in plasma.values)
    assert plasma.get("troponin") is None


def test_a_typical_figure_outside_its_own_range_is_refused() -> None:
    wrong = {"key": "sodium", "name": "sodium", "unit": "mmol/L", "low": 135, "typical": 14,
             "high": 145, "work": "a book"}  # fmt: skip
    with pytest.raises(UnitError, match="135 to 145"):
        plasma_from({"name": "plasma", "value": [wrong]})
