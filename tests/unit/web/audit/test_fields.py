"""What an act changed is told field by field, and a document nobody can read breaks nothing."""

import pytest

from app.web.audit.fields import (
    LONGEST_VALUE,
    MOST_FIELDS,
    Field,
    document_of,
    fields_of,
    fluid_fields,
    value_text,
)


def test_only_what_differs_is_told() -> None:
    before = {"value": 5.5, "reason": "as was", "same": 1}
    after = {"value": 5.7, "reason": "as was", "same": 1, "new": True}
    assert fields_of(before, after) == (
        Field("value", "5.5", "5.7"),
        Field("new", "nothing", "yes"),
    )


def test_where_one_side_is_missing_all_of_the_other_is_told() -> None:
    assert fields_of(None, {"a_b": 1, "c": None}) == (
        Field("a b", "", "1"),
        Field("c", "", "nothing"),
    )
    assert fields_of({"a": 1}, None) == (Field("a", "1", ""),)
    assert fields_of(None, None) == ()


def test_parts_within_parts_are_named_by_their_way() -> None:
    before = {"ph": {"low": 4}, "source": [{"work": "x"}], "sizes": [250, 500]}
    after = {"ph": {"low": 5}, "source": [{"work": "y"}], "sizes": [250, 1000]}
    assert fields_of(before, after) == (
        Field("ph › low", "4", "5"),
        Field("source › 1 › work", "x", "y"),
        Field("sizes", "250, 500", "250, 1,000"),
    )


def test_a_fluid_is_told_in_the_words_of_the_trade() -> None:
    before = {"name": "a", "composition_mmol_l": {"sodium": 154}}
    after = {"name": "a", "composition_mmol_l": {"sodium": 145, "potassium": 4}}
    assert fluid_fields(before, after) == (
        Field("sodium, mmol/L", "154", "145"),
        Field("potassium, mmol/L", "nothing", "4"),
    )
    assert fluid_fields(None, {"name": "a"}) == (Field("name", "", "a"),)


def test_an_entry_that_was_edited_into_none_is_told_as_it_is() -> None:
    assert fluid_fields(None, {"source": "nobody"}) == (Field("source", "", "nobody"),)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        (None, None),
        ('{"a":1}', {"a": 1}),
        ("[1,2]", {"value": [1, 2]}),
        ("{no json", {"not readable": "{no json"}),
    ],
)
def test_a_stored_document_is_read_or_shown_as_it_is(text: str | None, read: object) -> None:
    assert document_of(text) == read


def test_values_are_short_and_fields_are_few() -> None:
    assert len(value_text("x" * 9999)) == LONGEST_VALUE
    assert len(fields_of(None, {str(n): n for n in range(500)})) == MOST_FIELDS


@pytest.mark.parametrize(
    ("value", "text"),
    [(None, "nothing"), (False, "no"), (5.70, "5.7"), (0, "0"), ({"a": 1}, '{"a": 1}')],
)
def test_a_value_is_told_as_people_read_it(value: object, text: str) -> None:
    assert value_text(value) == text
