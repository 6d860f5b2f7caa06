"""The order form as a request: what was typed, where it belongs, and nothing made up."""

from datetime import UTC, datetime
from typing import Any

import pytest
from starlette.datastructures import QueryParams

from app.intake.errors import InputError
from app.web.order_form.form import asked, typed

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
BED = {
    "patient": {"weight_kg": 70},
    "orders": [{"id": "o1", "fluid": "5% glucose"}],
    "co_infusions": [{"name": "insulin", "kind": "drug"}],
}


def request_of(query: str, bed: dict[str, Any] | None = None) -> dict[str, Any]:
    return dict(asked(typed(QueryParams(query)), bed, NOW).request)


def test_a_field_left_blank_says_nothing() -> None:
    assert "age_years" not in request_of("fluid=saline&age=&weight=")["patient"]


def test_numbers_go_on_as_they_were_typed() -> None:
    (order,) = request_of("fluid=saline&rate=12o&volume=1000")["orders"]
    assert order["rate_ml_h"] == "12o"
    assert order["volume_ml"] == "1000"
    assert "duration_h" not in order


def test_blank_rows_are_left_out_and_messages_still_find_their_row() -> None:
    made = asked(
        typed(QueryParams("fluid=x&additive=&amount=&unit=mmol&additive=KCl&amount=2&unit=g")),
        None,
        NOW,
    )
    (order,) = made.request["orders"]
    assert order["additives"] == [{"substance": "KCl", "amount": "2", "unit": "g"}]
    assert made.fields["orders[0].additives[0].amount"] == "amount_1"


def test_conditions_are_parted_by_line_or_semicolon() -> None:
    patient = request_of("fluid=x&conditions=dialysis%0Aheart+failure;+oliguria")["patient"]
    assert patient["conditions"] == ["dialysis", "heart failure", "oliguria"]


def test_results_without_a_time_have_none() -> None:
    patient = request_of("fluid=x&result_potassium=5.9")["patient"]
    assert patient["observations"] == [{"name": "potassium", "value": "5.9", "unit": "mmol/L"}]


def test_results_taken_some_hours_ago_have_that_time_and_their_unit() -> None:
    query = "fluid=x&result_creatinine=2.1&unit_creatinine=mg/dL&results_age=0,5"
    (one,) = request_of(query)["patient"]["observations"]
    assert one == {
        "name": "creatinine", "value": "2.1", "unit": "mg/dL",
        "taken_at": "2031-03-04T06:30:00+00:00",
    }  # fmt: skip


@pytest.mark.parametrize("hours", ["soon", "-1", "inf", "nan", "99999"])
def test_hours_that_cannot_be_are_refused(hours: str) -> None:
    with pytest.raises(InputError) as refused:
        request_of(f"fluid=x&result_potassium=5&results_age={hours}")
    assert refused.value.field == "results_age"
    assert "such as 2 or 0.5" in refused.value.accepted


def test_a_typed_patient_has_this_line_and_perhaps_another() -> None:
    request = request_of("fluid=x&access=central")
    assert request["patient"]["access"] == [
        {"id": "this line", "site": "central"},
        {"id": "another line"},
    ]
    assert request["orders"][0]["lumen"] == "this line"


def test_a_picked_patient_keeps_all_that_runs() -> None:
    request = request_of("patient=p&fluid=saline&lumen=left+hand&with=ceftriaxone", BED)
    assert [order["id"] for order in request["orders"]] == ["o1", "new"]
    assert request["orders"][1]["lumen"] == "left hand"
    assert [one["name"] for one in request["co_infusions"]] == ["insulin", "ceftriaxone"]
    assert BED["orders"] == [{"id": "o1", "fluid": "5% glucose"}]


def test_an_order_may_stand_in_place_of_a_running_one() -> None:
    request = request_of("patient=p&fluid=saline&instead=o1", BED)
    assert [order["id"] for order in request["orders"]] == ["new"]


def test_a_message_on_a_picked_patients_order_finds_its_field() -> None:
    made = asked(typed(QueryParams("patient=p&fluid=x&rate=1")), BED, NOW)
    assert made.fields["orders[1].rate_ml_h"] == "rate"


def test_there_is_nothing_to_review_before_a_fluid_is_named() -> None:
    assert not typed(QueryParams("rate=100&weight=70")).has_order
    assert typed(QueryParams("order_text=saline 1 L over 8 h")).has_order


def test_rows_and_texts_have_an_end() -> None:
    many = typed(QueryParams("&".join(["fluid=" + "x" * 9000, *["additive=a"] * 50])))
    assert len(many.get("fluid")) == 2000
    assert len(many.additives) == 12


def test_a_patient_is_taken_or_let_go_by_its_button_only() -> None:
    assert typed(QueryParams("picked=bed-04")).patient == ""
    assert typed(QueryParams("picked=bed-04&do=pick")).patient == "bed-04"
    assert typed(QueryParams("patient=bed-04&do=type")).patient == ""
    assert typed(QueryParams("patient=bed-04")).patient == "bed-04"


def test_the_meaning_chosen_takes_the_place_of_what_was_written() -> None:
    assert typed(QueryParams("fluid=ringers&meant=lactated+Ringer's+(US)")).get("fluid") == (
        "lactated Ringer's (US)"
    )


def test_all_that_was_typed_reads_back_the_same_from_one_text() -> None:
    pairs = [
        ("patient", "bed-04"), ("fluid", "5% glucose & more"), ("rate", "80"),
        ("unit_glucose", "mg/dL"),
        ("additive", ""), ("amount", ""), ("unit", "mmol"),
        ("additive", "potassium chloride"), ("amount", "20"), ("unit", "mmol"),
        ("with", "ceftriaxone 2 g"), ("kind", "drug"), ("with_lumen", "p1"),
    ]  # fmt: skip
    form = typed(QueryParams(pairs))
    again = typed(QueryParams(form.everything()))
    assert (again.patient, again.single) == (form.patient, form.single)
    assert (again.additives, again.co_infusions) == (form.additives, form.co_infusions)
    assert form.additives[1]["amount"] == "20"
