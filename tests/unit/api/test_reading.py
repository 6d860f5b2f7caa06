import json

import pytest

from app.api.reading import JsonReply, errors_reply, json_object
from app.intake.errors import InputError, InputErrors


def test_a_json_object_is_read() -> None:
    assert json_object(b'{"orders": []}') == {"orders": []}


@pytest.mark.parametrize("body", [b"", b"{", b"[1]", b'"text"', b'{"a": NaN}', b"[" * 5000])
def test_anything_else_is_refused_by_name(body: bytes) -> None:
    with pytest.raises(InputError) as problem:
        json_object(body)
    assert problem.value.field == "body"


def test_several_problems_are_told_at_once_and_any_value_can_be_shown() -> None:
    problems = InputErrors((InputError("a", {"x": 1}, "text"), InputError("b", 7, "text")))
    told = json.loads(errors_reply(problems).body)["errors"]
    assert [row["field"] for row in told] == ["a", "b"]
    assert told[1]["value"] == 7


def test_a_reply_is_encoded_once() -> None:
    assert JsonReply({"rate_ml_h": 125}).body == b'{"rate_ml_h":125}'
