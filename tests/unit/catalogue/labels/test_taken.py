"""A label's figures laid over an entry: what is drafted is what the label says."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.document import document_of
from app.catalogue.entry import fluid_from
from app.catalogue.labels.compared import held_against
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.taken import taken_from
from tests.unit.catalogue.labels.true_labels import ALTERED, TRUE_LABELS


def entry(catalogue: Catalogue, fluid_id: str) -> dict[str, Any]:
    found = catalogue.get(fluid_id)
    assert found is not None
    return document_of(found)


# A label that says two things of one ion, and a range, which is no amount.
NOT_TAKEN = ("one of two units", "sodium outside the range")


@pytest.mark.parametrize("key", [key for key in ALTERED if key not in NOT_TAKEN])
def test_what_is_taken_from_a_label_agrees_with_its_ions_and_figures(
    catalogue: Catalogue, key: str
) -> None:
    of, before, after, _ = ALTERED[key]
    fluid_id, text = TRUE_LABELS[of]
    label = read_label(text.replace(before, after))
    taken = taken_from(label, entry(catalogue, fluid_id))
    fluid = fluid_from(taken, file_id=taken["id"])
    left = [one.of for one in held_against(label, fluid).differences if "salts" not in one.of]
    assert left == []


def test_what_the_label_does_not_say_stays(catalogue: Catalogue) -> None:
    before = entry(catalogue, "lactated-ringers")
    taken = taken_from(read_label("Osmolarity 275 mOsm/L"), before)
    assert taken == {**before, "osmolarity_labelled_mosm_l": 275.0}
    assert before["osmolarity_labelled_mosm_l"] == 273


def test_milliequivalents_become_millimoles(catalogue: Catalogue) -> None:
    label = read_label("Na 130, K 5.4, Ca 2.7, Cl 110.4, lactate 28 mEq/L")
    ions = taken_from(label, entry(catalogue, "lactated-ringers"))["composition_mmol_l"]
    assert ions == {
        "sodium": 130, "potassium": 5.4, "calcium": 1.35, "chloride": 110.4, "lactate": 28,
    }  # fmt: skip


def test_an_ion_that_the_label_s_list_leaves_out_is_taken_out(catalogue: Catalogue) -> None:
    label = read_label("Na 140, Cl 140 mmol/L")
    ions = taken_from(label, entry(catalogue, "lactated-ringers"))["composition_mmol_l"]
    assert ions == {"sodium": 140, "chloride": 140}


def test_one_ion_alone_is_no_list(catalogue: Catalogue) -> None:
    ions = taken_from(read_label("K 5 mmol/L"), entry(catalogue, "lactated-ringers"))
    assert ions["composition_mmol_l"]["sodium"] == 130
    assert ions["composition_mmol_l"]["potassium"] == 5


def test_salts_alone_become_ions(catalogue: Catalogue) -> None:
    label = read_label("1000 mL contains: sodium chloride 9 g")
    ions = taken_from(label, entry(catalogue, "sodium-chloride-0.45"))["composition_mmol_l"]
    assert ions == {"sodium": 154, "chloride": 154}


@pytest.mark.parametrize(
    "text", ["sodium 130 to 160 mmol/L", "potassium not more than 2 mmol/L", "sodium 5 mosm/L"]
)
def test_a_range_a_bound_and_a_wrong_unit_are_no_amount(catalogue: Catalogue, text: str) -> None:
    before = entry(catalogue, "albumin-5")
    assert taken_from(read_label(text), before) == before


def test_chloride_on_the_label_is_labelled(catalogue: Catalogue) -> None:
    taken = taken_from(read_label("Na 145, Cl 130 mmol/L"), entry(catalogue, "albumin-5"))
    assert taken["composition_mmol_l"] == {"sodium": 145, "chloride": 130}


def test_energy_in_kilojoules_and_glucose_with_its_water(catalogue: Catalogue) -> None:
    label = read_label("Dextrose monohydrate 55 g/L; 782 kJ/L; pH 3.5 to 6.5")
    taken = taken_from(label, entry(catalogue, "glucose-5"))
    assert taken["composition_g_l"] == {"glucose": 55, "glucose_basis": "monohydrate"}
    assert taken["energy_kcal_l"] == 186.9
    assert taken["ph"] == {"low": 3.5, "high": 6.5}
