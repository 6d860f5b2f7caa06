"""POST /api/predict: what an order would do to this patient."""

from typing import Any

import pytest
from fastapi.testclient import TestClient

SALINE = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "duration_min": 60}


def test_a_bare_weight_is_enough_and_the_rest_is_listed(client: TestClient) -> None:
    answer = client.post("/api/predict", json={"patient": {"weight_kg": 70}, "infusions": [SALINE]})
    assert answer.status_code == 200
    names = {one["name"] for one in answer.json()["assumed"]}
    assert {"sodium", "potassium", "albumin", "haematocrit"} <= names


def test_nobody_gets_in_without_a_token(client: TestClient) -> None:
    refused = client.post("/api/predict", json={}, headers={"Authorization": "Bearer none"})
    assert refused.status_code == 401


def test_looking_keeps_nothing(client: TestClient) -> None:
    before = client.get("/").text
    for volume_ml in (250, 500, 1000):
        client.post("/api/predict", json={"infusions": [{**SALINE, "volume_ml": volume_ml}]})
    assert client.get("/").text == before


@pytest.mark.parametrize(
    ("body", "field"),
    [
        (b"{", "body"),
        (b"[]", "body"),
        (b'{"infusions": 5}', "infusions"),
        (b'{"infusions": [{"fluid": "albumin", "volume_ml": 9, "duration_min": 9}]}',
         "infusions[0].fluid"),
        (b'{"horizon_min": 1e9}', "horizon_min"),
        (b'{"patient": {"age_years": 3}}', "patient.weight_kg"),
    ],
)  # fmt: skip
def test_bad_input_is_refused_with_field_value_and_what_is_accepted(
    client: TestClient, body: bytes, field: str
) -> None:
    refused = client.post("/api/predict", content=body)
    assert refused.status_code == 422
    (error,) = refused.json()["errors"]
    assert set(error) == {"field", "value", "accepted"}
    assert error["field"] == field


def test_the_body_is_read_as_the_demo_example_of_the_readme_has_it(client: TestClient) -> None:
    body: dict[str, Any] = {
        "patient": {
            "weight_kg": 70,
            "observations": [{"name": "potassium", "value": 3.1, "unit": "mmol/L"}],
        },
        "infusions": [
            {
                **SALINE,
                "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            }
        ],
    }
    potassium = client.post("/api/predict", json=body).json()["series"]["potassium_mmol_l"]["mid"]
    assert potassium[0] == 3.1
    assert max(potassium) > 3.1
