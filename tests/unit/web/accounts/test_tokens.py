"""Tokens of machines: made, shown once, used, ended."""

import re
from datetime import timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.storage.people.tokens import Token
from app.web.accounts.tokens import token_fault, token_line
from tests.people import Clients
from tests.unit.web.account.conftest import NOW, enter

NEW = {"name": "The record", "days": "30", "scope": ["catalogue", "rules"]}


@pytest.fixture
def wanda(browser: TestClient) -> TestClient:
    enter(browser, "wanda")
    return browser


def key_in(page: str) -> str:
    (key,) = re.findall(r"<code>([\w-]{43})</code>", page)
    return str(key)


def test_a_token_is_shown_once_opens_its_parts_and_is_ended(
    own_app: FastAPI, wanda: TestClient, clients: Clients
) -> None:
    key = key_in(wanda.post("/accounts/tokens", data=NEW).text)
    listed = wanda.get("/accounts/tokens").text
    assert key not in listed
    assert "<td>never</td>" in listed
    machine = clients(own_app, headers={"Authorization": f"Bearer {key}"})
    assert machine.get("/api/fluids").status_code == 200
    refused = machine.post("/api/review", json={})
    assert refused.status_code == 403
    assert "this one opens: catalogue, rules" in refused.json()["errors"][0]["accepted"]
    listed = wanda.get("/accounts/tokens").text
    assert "<td>just now</td>" in listed
    (number,) = re.findall(r"/accounts/tokens/(t-[0-9a-f]+)/end", listed)
    wanda.post(f"/accounts/tokens/{number}/end")
    answer = machine.get("/api/fluids")
    assert answer.status_code == 401
    assert "This token was ended." in answer.json()["errors"][0]["accepted"]
    assert wanda.post("/accounts/tokens/t-none/end").status_code == 404


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"name": ""}, "name"), ({"name": "x" * 81}, "name"), ({"days": "0"}, "days"),
        ({"days": "401"}, "days"), ({"days": "-1"}, "days"), ({"days": "1.5"}, "days"),
        ({"days": "\u0663"}, "days"), ({"days": ""}, "days"), ({"scope": ()}, "scope"),
        ({"days": "9" * 5000}, "days"),
        ({"scope": ("all",)}, "scope"),
    ],
)  # fmt: skip
def test_the_first_field_that_is_not_accepted_is_named_with_what_is(
    change: dict[str, object], field: str
) -> None:
    asked = {"name": "record", "days": "30", "scope": ("rules",), **change}
    named, why = token_fault(asked["name"], asked["days"], asked["scope"])  # type: ignore[arg-type]
    assert named == field
    assert "Accepted:" in why


def test_a_form_that_is_refused_keeps_what_was_typed(wanda: TestClient) -> None:
    answer = wanda.post("/accounts/tokens", data={**NEW, "days": "many"})
    assert answer.status_code == 422
    assert 'value="The record"' in answer.text
    assert 'value="many"' in answer.text
    assert answer.text.count(" checked") == 2
    assert "None was made here." in answer.text


def test_a_token_says_whether_it_opens() -> None:
    token = Token("t-1", "record", frozenset({"rules"}), "Wanda", NOW, NOW + timedelta(days=1))
    assert token_line(token, NOW).state == "opens"
    late = token_line(token, NOW + timedelta(days=2))
    assert (late.state, late.opens) == ("expired", False)
