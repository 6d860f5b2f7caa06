from typing import Any

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from app.api.shapes import ReviewReply
from app.catalogue.stock.stock import StockState
from app.main import create_app
from app.settings import read_settings
from app.storage.database import transaction
from app.storage.seed import seed
from app.storage.stock import tell_stock
from tests.conftest import LOADED, NOW
from tests.contract.interfaces import REVIEW_REQUEST
from tests.unit.api.conftest import DEMO_CLIENT


def findings(reply: dict[str, Any]) -> dict[str, str]:
    every = [*reply["patient_findings"], *(f for o in reply["orders"] for f in o["findings"])]
    return {finding["rule_id"]: finding["level"] for finding in every}


def test_the_sample_request_is_reviewed(client: TestClient) -> None:
    reply = client.post("/api/review", json=REVIEW_REQUEST)
    assert reply.status_code == 200
    found = findings(reply.json())
    assert found["k-hyper"] == "critical"
    assert found["cef-ca-sameline"] == "critical"
    assert reply.json()["orders"][0]["fluid_id"] == "lactated-ringers"


def test_an_empty_object_is_reviewed_and_finds_nothing(client: TestClient) -> None:
    reply = client.post("/api/review", json={})
    assert reply.status_code == 200
    assert reply.json()["orders"] == []


@pytest.mark.parametrize(
    ("body", "field"),
    [
        (b"{", "body"),
        (b"[]", "body"),
        (b'{"orders": [{"rate_ml_h": "12o"}]}', "orders[0].rate_ml_h"),
        (b'{"orders": [{"rate_ml_h": -5}]}', "orders[0].rate_ml_h"),
        (b'{"orders": [{"rate_ml_h": 1e9}]}', "orders[0].rate_ml_h"),
        (b'{"orders": [{"rate_ml_h": true}]}', "orders[0].rate_ml_h"),
        (b'{"orders": {}}', "orders"),
        (b'{"patient": {"weight_kg": 0}}', "patient.weight_kg"),
        (b'{"patient": {"sex": "maybe"}}', "patient.sex"),
        (b'{"setting": "kitchen"}', "setting"),
        (b'{"now": "yesterday"}', "now"),
        (b"\xff\xfe", "body"),
    ],
)
def test_bad_input_names_field_value_and_what_is_accepted(
    client: TestClient, body: bytes, field: str
) -> None:
    reply = client.post("/api/review", content=body)
    assert reply.status_code == 422
    (error, *_) = reply.json()["errors"]
    assert error["field"] == field
    assert error["accepted"]


def test_an_unknown_fluid_is_asked_about_not_refused(client: TestClient) -> None:
    order = {"id": "o1", "fluid": "moon water", "volume_ml": 1000, "rate_ml_h": 100}
    reply = client.post("/api/review", json={"orders": [order]}).json()
    assert reply["orders"][0]["fluid_id"] is None
    assert "order-ambiguous" in findings(reply)


def test_a_client_without_a_token_is_told_how_to_send_one(client: TestClient) -> None:
    reply = client.post("/api/review", json={}, headers={"Authorization": "Bearer wrong"})
    assert reply.status_code == 401
    assert "Bearer" in reply.headers["www-authenticate"]
    assert "Authorization" in reply.text


def test_receipts_come_only_when_asked_for(client: TestClient) -> None:
    assert "receipts" not in client.post("/api/review", json=REVIEW_REQUEST).json()
    reply = client.post("/api/review?receipts=1", json=REVIEW_REQUEST).json()
    ReviewReply.model_validate(reply)
    assert sorted(r["rule_id"] for r in reply["receipts"]) == sorted(
        finding["rule_id"]
        for place in (*reply["orders"], {"findings": reply["patient_findings"]})
        for finding in place["findings"]
    )
    assert {receipt["previous"] for receipt in reply["receipts"][:1]} == {""}
    assert all(receipt["request"] == REVIEW_REQUEST for receipt in reply["receipts"])


def test_a_request_without_a_moment_is_kept_with_the_moment_it_was_read(
    client: TestClient,
) -> None:
    request = {name: part for name, part in REVIEW_REQUEST.items() if name != "now"}
    first = client.post("/api/review?receipts=1", json=request).json()["receipts"][0]
    assert "now" not in first["request"]
    assert first["made_at"].startswith("20")


def test_a_request_nested_without_end_is_refused_a_receipt_not_an_error(client: TestClient) -> None:
    body = b'{"remark": ' + b"[" * 900 + b"]" * 900 + b"}"
    assert client.post("/api/review", content=body).status_code == 200
    assert client.post("/api/review?receipts=1", content=body).status_code == 422


def test_what_is_told_of_stock_counts_at_the_next_review(engine: Engine) -> None:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    url = engine.url.render_as_string(hide_password=False)
    app = create_app(read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_DATABASE_URL": url}))
    with TestClient(app, headers=DEMO_CLIENT) as client:
        assert "acetated-ringers" in offered(client)
        with transaction(engine) as session:
            tell_stock(session, "acetated-ringers", StockState("out", NOW, "lorry late"))
        left = offered(client)
    assert left
    assert "acetated-ringers" not in left


def offered(client: TestClient) -> set[str]:
    reply = client.post("/api/review", json=REVIEW_REQUEST).json()
    ReviewReply.model_validate(reply)
    found = (f for order in reply["orders"] for f in order["findings"])
    return {way["fluid_id"] for finding in found for way in finding["alternatives"]}
