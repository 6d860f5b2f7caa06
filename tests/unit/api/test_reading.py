import json
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.api.reading import JsonReply, errors_reply, json_object
from app.intake.errors import InputError, InputErrors
from app.main import create_app
from app.settings import Settings
from tests.contract.interfaces import REVIEW_REQUEST
from tests.unit.api.conftest import DEMO_CLIENT


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


@pytest.fixture
def empty(tmp_path: Path) -> FastAPI:
    """An app over a database that nothing was ever done to."""
    url = f"sqlite:///{tmp_path / 'empty.db'}"
    return create_app(Settings(database_url=url, demo=True, api_tokens=frozenset({"demo"})))


def test_without_tables_programs_are_answered_and_no_stock_is_told(empty: FastAPI) -> None:
    with TestClient(empty, headers=DEMO_CLIENT) as client:
        reply = client.post("/api/review", json=REVIEW_REQUEST)
        fluids = client.get("/api/fluids").json()["fluids"]
    assert reply.status_code == 200
    assert reply.json()["orders"][0]["stock"]["state"] == "not told"
    assert {fluid["stock"]["state"] for fluid in fluids} == {"not told"}
