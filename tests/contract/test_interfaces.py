"""What outside checks rely on: URLs and JSON shapes, kept exactly."""

from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from jsonschema import Draft202012Validator

from app.api.line_plan_shapes import LinePlanReply, LinePlanRequest
from app.api.predict_shapes import PredictReply, PredictRequest
from app.api.shapes import Errors, ReviewReply, ReviewRequest
from app.catalogue.stock.stock import STATES
from tests.contract import interfaces
from tests.people import EVERYDAY, Clients
from tests.unit.api.conftest import client
from tests.unit.conftest import app, clients, demo_unit, migrated

__all__ = ["app", "client", "clients", "demo_unit", "migrated"]


@pytest.fixture
def reply(client: TestClient) -> dict[str, Any]:
    answer: dict[str, Any] = client.post("/api/review", json=interfaces.REVIEW_REQUEST).json()
    return answer


def test_the_reply_has_every_name_of_the_interface(reply: dict[str, Any]) -> None:
    assert set(reply) >= interfaces.REPLY
    (order,) = reply["orders"]
    assert set(order) >= interfaces.ORDER
    assert set(order["loads"]) >= interfaces.LOADS
    assert order["findings"]
    for finding in order["findings"]:
        assert set(finding) >= interfaces.FINDING
        assert all(set(s) >= {"work", "place", "seen"} for s in finding["source"])
        assert all(set(a) >= {"fluid_id", "why"} for a in finding["alternatives"])
    for finding in reply["patient_findings"]:
        assert set(finding) >= interfaces.FINDING | {"order_ids"}
    assert all(set(n) >= {"rule_id", "needs"} for n in order["not_assessed"])


def test_every_fluid_order_and_way_out_says_where_its_fluid_is(
    client: TestClient, reply: dict[str, Any]
) -> None:
    (order,) = reply["orders"]
    ways = [way for finding in order["findings"] for way in finding["alternatives"]]
    assert ways
    fluids = client.get("/api/fluids").json()["fluids"]
    one = client.get("/api/fluids/lactated-ringers").json()
    for told in (order, *ways, *fluids, one):
        assert set(told["stock"]) == interfaces.STOCK


def test_openapi_describes_stock(client: TestClient) -> None:
    document = client.get("/openapi.json").json()
    for path in ("/api/fluids", "/api/fluids/{fluid_id}"):
        assert "Fluid" in str(document["paths"][path]["get"]["responses"]["200"])
    told = document["components"]["schemas"]["StockOut"]
    assert set(told["properties"]) == interfaces.STOCK
    assert told["properties"]["state"]["enum"] == list(STATES)


def test_two_things_in_one_lumen_are_told_with_every_field(client: TestClient) -> None:
    sent = {"a": "ceftriaxone", "b": "lactated-ringers"}
    told = client.get("/api/co-infusion", params=sent).json()
    assert set(told) >= interfaces.PAIR
    facts = [fact for part in told["parts"] for fact in part["facts"]]
    assert facts
    for fact in facts:
        assert set(fact) == interfaces.FACT
        assert set(fact["source"]) == {"work", "seen", "note"}


def test_what_is_missing_is_told_with_what_it_would_change(client: TestClient) -> None:
    patient = {**interfaces.REVIEW_REQUEST["patient"], "observations": []}
    request = {**interfaces.REVIEW_REQUEST, "patient": patient}
    first = client.post("/api/review", json=request).json()["would_change"][0]
    assert set(first) >= interfaces.WOULD_CHANGE
    assert (first["need"], first["why"], first["level"]) == ("potassium", "missing", "critical")
    assert first["order_ids"] == ["o1"]


def test_loads_of_maintenance_go_by_its_pace_as_the_interface_shows(reply: dict[str, Any]) -> None:
    loads = reply["orders"][0]["loads"]
    assert loads["water_ml_per_day"] == 3000
    assert loads["sodium_mmol_per_day"] == 390


def test_the_described_shapes_take_the_sample_and_the_reply(reply: dict[str, Any]) -> None:
    ReviewRequest.model_validate(interfaces.REVIEW_REQUEST)
    ReviewReply.model_validate(reply)


def test_openapi_describes_request_reply_and_errors(client: TestClient) -> None:
    document = client.get("/openapi.json").json()
    post = document["paths"]["/api/review"]["post"]
    schema = post["requestBody"]["content"]["application/json"]["schema"]
    Draft202012Validator(schema).validate(interfaces.REVIEW_REQUEST)
    assert ReviewReply.__name__ in str(post["responses"]["200"])
    assert Errors.__name__ in str(post["responses"]["422"])


@pytest.fixture
def prediction(client: TestClient) -> dict[str, Any]:
    answer: dict[str, Any] = client.post("/api/predict", json=interfaces.PREDICT_REQUEST).json()
    return answer


def test_a_prediction_has_every_name_of_the_interface(prediction: dict[str, Any]) -> None:
    assert set(prediction) >= interfaces.PREDICTION
    assert prediction["assumed"]
    assert all(set(one) == interfaces.ASSUMED for one in prediction["assumed"])
    assert set(prediction["series"]) == interfaces.SERIES
    assert prediction["times_min"] == [15 * step for step in range(17)]
    for band in prediction["series"].values():
        assert set(band) == interfaces.BAND
        assert all(len(line) == 17 for line in band.values())
    assert [one["fluid_id"] for one in prediction["infusions"]] == ["lactated-ringers", None]


def test_the_described_shapes_take_the_prediction(prediction: dict[str, Any]) -> None:
    PredictRequest.model_validate(interfaces.PREDICT_REQUEST)
    PredictReply.model_validate(prediction)


def test_openapi_describes_a_prediction(client: TestClient) -> None:
    post = client.get("/openapi.json").json()["paths"]["/api/predict"]["post"]
    schema = post["requestBody"]["content"]["application/json"]["schema"]
    Draft202012Validator(schema).validate(interfaces.PREDICT_REQUEST)
    assert PredictReply.__name__ in str(post["responses"]["200"])
    assert Errors.__name__ in str(post["responses"]["422"])


SHORT_OF_LUMENS = {
    **interfaces.LINE_PLAN_REQUEST,
    "infusions": [{**one, "may_pause": False} for one in interfaces.LINE_PLAN_REQUEST["infusions"]],
}
BARRED = {
    **interfaces.LINE_PLAN_REQUEST,
    "keep_apart": [{"pair": ["lr", "cef"], "scope": "patient"}],
}


@pytest.mark.parametrize("request_", [interfaces.LINE_PLAN_REQUEST, SHORT_OF_LUMENS, BARRED])
def test_a_line_plan_has_every_name_of_the_interface_and_its_described_shape(
    client: TestClient, request_: dict[str, Any]
) -> None:
    LinePlanRequest.model_validate(request_)
    reply = client.post("/api/line-plan", json=request_).json()
    LinePlanReply.model_validate(reply)
    assert set(reply) >= interfaces.LINE_PLAN
    assert all(set(one) >= interfaces.PLACEMENT for one in reply["plan"])
    assert all(set(one) >= interfaces.STEP for one in reply["steps"])
    assert all(set(one) >= interfaces.WAY_OUT for one in reply["ways_out"])
    assert reply["feasible"] == (reply["why_not"] is None)
    assert reply["feasible"] or set(reply["why_not"]) >= interfaces.WHY_NOT


def test_openapi_describes_a_line_plan(client: TestClient) -> None:
    post = client.get("/openapi.json").json()["paths"]["/api/line-plan"]["post"]
    schema = post["requestBody"]["content"]["application/json"]["schema"]
    Draft202012Validator(schema).validate(interfaces.LINE_PLAN_REQUEST)
    assert LinePlanReply.__name__ in str(post["responses"]["200"])
    assert Errors.__name__ in str(post["responses"]["422"])


def test_rules_are_told_with_every_name_of_the_interface(client: TestClient) -> None:
    for rule in client.get("/api/rules").json()["rules"]:
        assert set(rule) >= interfaces.RULE


@pytest.mark.parametrize("page", interfaces.PAGES)
def test_every_page_of_this_release_answers(app: FastAPI, clients: Clients, page: str) -> None:
    signed_in = clients(app, *EVERYDAY)
    assert signed_in.get(page).status_code == 200
