"""Two entries beside each other, in the trade's words."""

from copy import deepcopy
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.differences import differences
from app.catalogue.document import document_of
from app.catalogue.entry import fluid_from


@pytest.fixture
def ringers(catalogue: Catalogue) -> dict[str, Any]:
    fluid = catalogue.get("lactated-ringers")
    assert fluid is not None
    return deepcopy(document_of(fluid))


def told(before: dict[str, Any] | None, after: dict[str, Any] | None) -> list[str]:
    return [str(one) for one in differences(before, after)]


def test_an_entry_differs_from_itself_in_nothing(ringers: dict[str, Any]) -> None:
    assert told(ringers, deepcopy(ringers)) == []


def test_every_sort_of_field_is_told_in_the_words_of_a_label(ringers: dict[str, Any]) -> None:
    after = deepcopy(ringers)
    after["composition_mmol_l"]["sodium"] = 131
    del after["composition_mmol_l"]["calcium"]
    after["composition_mmol_l"]["magnesium"] = 1
    after["ph"]["low"] = 5.5
    after["pack_sizes_ml"] = [500, 1000]
    after["osmolarity_labelled_mosm_l"] = 275
    after["search_words"] = ["Ringer"]
    after["composition_g_l"] = {"glucose": 50, "glucose_basis": "monohydrate"}
    assert told(ringers, after) == [
        "sodium, mmol/L: 130, then 131",
        "calcium, mmol/L: 1.35, then nothing",
        "magnesium, mmol/L: nothing, then 1",
        "glucose, g/L: nothing, then 50",
        "glucose counted as: nothing, then monohydrate",
        "bag sizes, mL: 250, 500, 1000, then 500, 1000",
        "osmolarity on the label, mOsm/L: 273, then 275",
        "pH, lowest: 6, then 5.5",
        "words people search by: LR, RL, lactated Ringer's, Ringer's lactate, lactated Ringer's "
        "injection, then Ringer",
    ]


def test_a_source_that_was_seen_since_is_told_and_its_place_in_the_file_is_not(
    ringers: dict[str, Any],
) -> None:
    after = deepcopy(ringers)
    after["source"] = [*reversed(after["source"])]
    assert told(ringers, after) == []
    after["source"][0]["seen"] = True
    (one,) = differences(ringers, after)
    assert one.name == "source of pack sizes"
    assert "from memory" in one.before and "text seen" in one.after


def test_nothing_of_a_salt_is_the_same_said_or_unsaid_but_a_labels_zero_is_not(
    ringers: dict[str, Any],
) -> None:
    after = deepcopy(ringers)
    after["composition_mmol_l"]["magnesium"] = 0
    assert told(ringers, after) == []
    after["energy_kcal_l"] = 0
    assert told(ringers, after) == ["energy, kcal/L: 9, then 0"]


def test_a_fluid_that_comes_or_goes_is_told_as_a_whole(ringers: dict[str, Any]) -> None:
    assert told(None, ringers) == [
        "the whole entry: not in the catalogue, then lactated Ringer's (US)"
    ]
    assert told(ringers, None) == [
        "the whole entry: lactated Ringer's (US), then not in the catalogue"
    ]
    assert told(None, None) == []


def test_no_field_of_any_entry_is_told_by_its_bare_path(catalogue: Catalogue) -> None:
    for fluid in catalogue:
        document = document_of(fluid)
        assert fluid_from(document, file_id=fluid.id) == fluid
        for one in differences({}, document):
            assert "_" not in one.name, one.field
