"""How each written word was understood, and what was not."""

from collections.abc import Callable

from app.review.assess import Review
from app.web.advice.understood import (
    Understood,
    questions_of,
    understood_order,
    understood_others,
    understood_words,
)

Reviewed = Callable[..., Review]


def by_phrase(list_: tuple[Understood, ...]) -> dict[str, Understood]:
    return {one.written: one for one in list_}


def test_one_phrase_may_mean_several_things(reviewed: Reviewed) -> None:
    words = reviewed({"conditions": ["acute kidney injury stage 3"]}).case.patient.conditions
    taken = by_phrase(understood_words(words))["acute kidney injury stage 3"].taken_for
    assert "acute kidney injury" in taken
    assert "severe kidney failure" in taken


def test_a_word_taken_as_itself_is_not_said_twice(reviewed: Reviewed) -> None:
    words = reviewed({"conditions": ["heart failure"]}).case.patient.conditions
    assert by_phrase(understood_words(words))["heart failure"].as_written


def test_a_denied_condition_is_shown_as_denied(reviewed: Reviewed) -> None:
    words = reviewed({"conditions": ["no diabetes"]}).case.patient.conditions
    (one,) = understood_words(words)
    assert one.written == ""
    assert "diabetes" in one.taken_for


def test_a_word_that_was_not_understood_has_no_meaning(reviewed: Reviewed) -> None:
    words = reviewed({"conditions": ["xyzzy"]}).case.patient.conditions
    assert by_phrase(understood_words(words))["xyzzy"].taken_for == ""


def test_a_drug_says_what_it_does_to_potassium(reviewed: Reviewed) -> None:
    words = reviewed({"medications": ["spironolactone"]}).case.patient.medications
    assert "raises potassium" in by_phrase(understood_words(words))["spironolactone"].taken_for


def test_an_order_is_told_as_the_catalogue_names_it(reviewed: Reviewed) -> None:
    (order,) = reviewed({}, {"fluid": "normal saline", "volume_ml": 1000}).case.orders
    read = understood_order(order)
    assert (read.written, read.taken_for) == ("normal saline", "0.9% sodium chloride")


def test_what_runs_besides_is_told_with_its_line_or_as_not_understood(reviewed: Reviewed) -> None:
    others = (
        {"name": "ceftriaxone 2 g", "kind": "drug", "lumen": "left hand"},
        {"name": "xyzzy", "kind": "drug"},
    )
    known, unknown = understood_others(reviewed({}, others=others).case)
    assert known.taken_for.startswith("ceftriaxone")
    assert known.taken_for.endswith("by left hand")
    assert unknown.taken_for == ""


def test_an_ambiguous_fluid_is_asked_about_once(reviewed: Reviewed) -> None:
    case = reviewed({}, {"fluid": "dextrose saline"}).case
    asked = questions_of(case)
    assert any("dextrose saline" in one.written for one in asked)
    assert len(asked) == len(set(asked))
    assert questions_of(case, ("another",)) == questions_of(reviewed({}).case)
