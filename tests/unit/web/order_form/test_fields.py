"""The form as it is drawn: what was typed is kept, and choices are the patient's own."""

import pytest
from starlette.datastructures import QueryParams

from app.review.knowledge import Knowledge
from app.storage.patients import Bed
from app.web.order_form.fields import FormView, form_view, label_of, running_words
from app.web.order_form.form import typed

BED = Bed(
    "p1",
    "07",
    "M.K.",
    {
        "patient": {"age_years": 61, "weight_kg": 70, "access": [{"id": "left hand"}]},
        "orders": [{"id": "o1", "fluid": "5% glucose", "rate_ml_h": 80}],
    },
)


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


def view(knowledge: Knowledge, query: str, bed: Bed | None = None) -> FormView:
    return form_view(typed(QueryParams(query)), bed, (BED,), knowledge)


def chosen(form: FormView, name: str) -> str:
    return next(choice.value for choice in form.fields[name].choices if choice.chosen)


def test_what_was_typed_stands_in_its_field(knowledge: Knowledge) -> None:
    form = view(knowledge, "fluid=saline&rate=12o&additive=KCl&amount=40&unit=g")
    assert form.fields["rate"].value == "12o"
    assert form.additives[0]["amount"].value == "40"
    assert next(c.value for c in form.additives[0]["unit"].choices if c.chosen) == "g"


def test_a_choice_that_is_not_offered_is_still_kept(knowledge: Knowledge) -> None:
    assert chosen(view(knowledge, "purpose=fun"), "purpose") == "fun"


def test_lines_and_orders_to_replace_are_the_patients_own(knowledge: Knowledge) -> None:
    form = view(knowledge, "patient=p1", BED)
    assert [c.value for c in form.fields["lumen"].choices] == ["", "left hand"]
    assert [c.word for c in form.fields["instead"].choices][1] == "5% glucose, 80 mL/h"
    assert form.patient is not None
    assert form.patient.words == "Bed 07, M.K., 61 y, 70 kg"


def test_every_fluid_of_the_catalogue_is_offered(knowledge: Knowledge) -> None:
    assert len(view(knowledge, "").fluids) == len(knowledge.catalogue)


def test_more_results_are_open_once_one_is_typed(knowledge: Knowledge) -> None:
    assert not view(knowledge, "result_potassium=5").more_results_open
    assert view(knowledge, "result_lactate=5").more_results_open


def test_a_result_keeps_the_unit_it_was_typed_in(knowledge: Knowledge) -> None:
    form = view(knowledge, "result_creatinine=2&unit_creatinine=mg/dL")
    creatinine = next(f for f in form.results if f.name == "result_creatinine")
    assert next(c.value for c in creatinine.unit_choices if c.chosen) == "mg/dL"


def test_a_field_is_called_in_messages_as_on_the_page() -> None:
    assert label_of("result_calcium_ionised") == "Ionised calcium"
    assert label_of("amount_1") == "Amount 2"
    assert label_of("unit_0") == "Unit 1"
    assert label_of("rate") == "Rate"


def test_an_order_without_a_rate_is_named_by_its_words() -> None:
    assert running_words({"order_text": "saline over 8 h"}) == "saline over 8 h"
    assert running_words({}) == "an order without a fluid"
