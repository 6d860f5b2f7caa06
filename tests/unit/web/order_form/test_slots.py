"""A place for a message beside each field, and no more places than the page has."""

from starlette.datastructures import QueryParams

from app.web.order_form.form import typed
from app.web.order_form.slots import RowCounts, row_counts, slot_name, slots_of

ROWS = RowCounts(2, 2)


def test_a_whole_page_offers_one_row_more_than_is_filled() -> None:
    form = typed(QueryParams("additive=a&additive=b&additive=c&with=x"))
    assert row_counts(form, whole=True) == RowCounts(4, 2)


def test_a_part_has_the_rows_that_were_sent() -> None:
    form = typed(QueryParams("additive=a&additive=&additive=&with="))
    assert row_counts(form, whole=False) == RowCounts(3, 1)


def test_a_message_goes_to_its_field_and_the_others_stay_empty() -> None:
    slots = slots_of({"rate": "Rate: …"}, ROWS, picked=False)
    assert slots["rate"].message == "Rate: …"
    assert slots["volume"].message == ""


def test_all_fields_of_a_row_share_one_place() -> None:
    slots = slots_of({"amount_1": "Amount 2: …"}, ROWS, picked=False)
    assert slots["additive_1"].message == "Amount 2: …"
    assert slot_name("with_lumen_0") == "with_0"
    assert slot_name("result_potassium") == "result_potassium"


def test_a_picked_patient_leaves_only_the_orders_places() -> None:
    slots = slots_of({}, ROWS, picked=True)
    assert "rate" in slots
    assert "instead" in slots
    assert not {"weight", "access", "result_potassium"} & set(slots)


def test_a_typed_patient_has_no_lines_to_choose_from() -> None:
    assert not {"lumen", "instead"} & set(slots_of({}, ROWS, picked=False))
