"""A catalogue file read field by field."""

from typing import Any

import pytest

from app.catalogue.entry import EntryError, fluid_from


def entry(**changed: object) -> dict[str, Any]:
    return {
        "id": "test-fluid",
        "name": "a fluid",
        "kind": "crystalloid",
        "composition_mmol_l": {"sodium": 77, "chloride": 77},
        "composition_g_l": {"glucose": 50, "glucose_basis": "monohydrate"},
        "ph": {"low": 3.2, "high": 6.5},
        "source": [{"work": "a label", "seen": True}],
        **changed,
    }


def test_an_entry_becomes_the_fluid_it_describes() -> None:
    fluid = fluid_from(entry(), file_id="test-fluid")
    assert fluid.composition.sodium_mmol_l == 77
    assert fluid.composition.glucose_monohydrate
    assert (fluid.ph.low, fluid.ph.typical, fluid.ph.high) == (3.2, None, 6.5)
    assert fluid.osmolarity_labelled_mosm_l is None
    assert fluid.sources[0].seen


def test_a_chloride_that_is_not_labelled_is_unknown_not_zero() -> None:
    ions = {"sodium": 145, "not_labelled": ["chloride"]}
    fluid = fluid_from(entry(composition_mmol_l=ions), file_id="test-fluid")
    assert fluid.composition.chloride_mmol_l is None


@pytest.mark.parametrize(
    ("changed", "field", "accepted"),
    [
        ({"colour": "blue"}, "colour", "composition_mmol_l"),
        ({"id": "other"}, "id", "test-fluid"),
        ({"name": " "}, "name", "not empty"),
        ({"kind": "soup"}, "kind", "crystalloid"),
        ({"composition_mmol_l": {"sodium": -1}}, "composition_mmol_l.sodium", "0 or more"),
        ({"composition_mmol_l": {"natrium": 1}}, "composition_mmol_l.natrium", "sodium"),
        ({"composition_mmol_l": {"sodium": True}}, "composition_mmol_l.sodium", "a number"),
        ({"composition_mmol_l": {"not_labelled": ["sodium"]}},
         "composition_mmol_l.not_labelled", "chloride"),
        ({"composition_g_l": {"glucose": 50}}, "composition_g_l.glucose_basis", "anhydrous"),
        ({"composition_g_l": {"salt": 9}}, "composition_g_l.salt", "glucose"),
        ({"energy_kcal_l": "many"}, "energy_kcal_l", "a number"),
        ({"source": []}, "source", "at least one"),
        ({"source": [{"seen": True}]}, "work", "not empty"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named_with_what_is_accepted(
    changed: dict[str, Any], field: str, accepted: str
) -> None:
    with pytest.raises(EntryError) as raised:
        fluid_from(entry(**changed), file_id="test-fluid")
    assert raised.value.field == field
    assert accepted in raised.value.accepted
    assert str(raised.value).startswith(f"{field}: ")
