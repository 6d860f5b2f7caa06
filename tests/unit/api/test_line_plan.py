"""POST /api/line-plan: which lumen carries what, and when."""

import pytest
from fastapi.testclient import TestClient

from tests.unit.review.lines.shift import BARRED, REQUEST, TIGHT, changed


def test_the_request_of_the_interface_page_is_planned(client: TestClient) -> None:
    answer = client.post("/api/line-plan", json=REQUEST)
    assert answer.status_code == 200
    reply = answer.json()
    assert (reply["feasible"], reply["proven_optimal"]) == (True, True)
    costs = (reply["extra_cannulas"], reply["interruptions"], reply["minutes_paused"])
    assert costs == (0, 1, 240)


def test_the_same_request_has_the_same_reply(client: TestClient) -> None:
    first, second = (client.post("/api/line-plan", json=TIGHT).text for _ in range(2))
    assert first == second


def test_where_no_cannula_helps_the_plan_is_empty_and_says_why(client: TestClient) -> None:
    reply = client.post("/api/line-plan", json=BARRED).json()
    assert (reply["feasible"], reply["plan"]) == (False, [])
    assert "must not both be given" in reply["why_not"]["text"]


def test_the_table_of_pairs_is_used_where_it_is_wanted(client: TestClient) -> None:
    request = changed("use_catalogue", True) | {"keep_apart": []}
    reply = client.post("/api/line-plan", json=request).json()
    told = {frozenset(one["pair"]): one["why"] for one in reply["keep_apart"]}
    assert "citrate" in told[frozenset({"lr", "rbc"})]
    without = client.post("/api/line-plan", json=request | {"use_catalogue": False}).json()
    assert without["keep_apart"] == []


def test_nobody_gets_in_without_a_token(client: TestClient) -> None:
    headers = {"Authorization": "Bearer none"}
    assert client.post("/api/line-plan", json=REQUEST, headers=headers).status_code == 401


@pytest.mark.parametrize(
    ("place", "value", "field"),
    [
        ("keep_apart.0.pair", ["lr", "heparin"], "keep_apart[0].pair"),
        ("infusions.1.latest_end_min", 150, "infusions[1].latest_end_min"),
        ("lumens", [], "lumens"),
        ("infusions.2.duration_min", -180, "infusions[2].duration_min"),
        ("infusions.1.id", "lr", "infusions[1].id"),
        ("infusions.1.kind", "push", "infusions[1].kind"),
        ("step_min", 1440, "step_min"),
    ],
)
def test_bad_input_is_refused_with_field_value_and_what_is_accepted(
    client: TestClient, place: str, value: object, field: str
) -> None:
    refused = client.post("/api/line-plan", json=changed(place, value))
    assert refused.status_code == 422
    errors = refused.json()["errors"]
    assert all(set(error) == {"field", "value", "accepted"} for error in errors)
    assert errors[0]["field"] == field


def test_what_is_not_json_is_refused(client: TestClient) -> None:
    refused = client.post("/api/line-plan", content=b"{")
    assert refused.status_code == 422
    assert refused.json()["errors"][0]["field"] == "body"
