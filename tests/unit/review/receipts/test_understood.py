"""A receipt holds how each word and figure was read."""

from app.review.knowledge import Knowledge
from app.review.receipts.understood import fluids_of, understood_of
from app.review.workflow import review_request
from tests.unit.review.receipts.conftest import REQUEST


def test_the_mix_per_litre_counts_what_was_added(knowledge: Knowledge) -> None:
    (order,) = understood_of(review_request(REQUEST, knowledge).case)["orders"]
    added = (
        order["mix_per_litre"]["potassium_mmol_l"] - order["fluid_per_litre"]["potassium_mmol_l"]
    )
    assert added == 20
    assert order["additives"][0]["in_total"] == {"potassium_mmol_l": 20, "chloride_mmol_l": 20}


def test_a_converted_result_says_from_what(knowledge: Knowledge) -> None:
    results = understood_of(review_request(REQUEST, knowledge).case)["patient"]["results"]
    glucose = next(one for one in results if one["name"] == "glucose")
    assert glucose["unit"] == "mmol/L"
    assert "180" in glucose["converted"]


def test_words_not_understood_are_kept(knowledge: Knowledge) -> None:
    patient = {**REQUEST["patient"], "conditions": ["blorbitis"]}
    case = review_request({**REQUEST, "patient": patient}, knowledge).case
    assert understood_of(case)["patient"]["conditions"]["not_understood"] == ["blorbitis"]


def test_an_ambiguous_name_brings_every_fluid_it_may_mean(knowledge: Knowledge) -> None:
    order = {**REQUEST["orders"][0], "fluid": "dextrose saline"}
    case = review_request({**REQUEST, "orders": [order]}, knowledge).case
    assert len(fluids_of(case)) > 1
    assert understood_of(case)["orders"][0]["may_mean"]
