"""GET /api/co-infusion: two things by words or ids."""

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import create_engine

from app.api.pairs import PairReply
from app.storage.database import transaction
from app.storage.pairs.notes import sign_note
from tests.unit.review.pairs.conftest import signed

PATH = "/api/co-infusion"


def test_two_things_are_answered_by_words_and_by_ids_alike(client: TestClient) -> None:
    words = client.get(PATH, params={"a": "CTX 1 g in 100 mL saline", "b": "Hartmann's"}).json()
    ids = client.get(PATH, params={"a": "ceftriaxone", "b": "compound-sodium-lactate"}).json()
    for told in (words, ids):
        assert (told["verdict"], told["keep_apart"], told["scope"]) == ("in turn", True, "lumen")
        assert told["newborn"]["scope"] == "patient"
        PairReply.model_validate(told)
    assert (words["b"]["id"], words["b"]["written"]) == ("compound-sodium-lactate", "Hartmann's")


def test_no_data_is_an_answer_and_never_safe(client: TestClient) -> None:
    told = client.get(PATH, params={"a": "meropenem", "b": "furosemide"}).json()
    assert (told["verdict"], told["keep_apart"]) == ("no data", True)
    assert told["text"] == "Nobody has told us of these two: keep them apart."


@pytest.mark.parametrize(
    ("sent", "fields"),
    [
        ({"a": "moon juice", "b": "saline"}, ["a"]),
        ({"a": "saline", "b": "abx"}, ["b"]),
        ({"a": "moon juice", "b": ""}, ["a", "b"]),
        ({"a": "saline"}, ["b"]),
        ({}, ["a", "b"]),
    ],
)
def test_words_not_understood_are_named_by_field(
    client: TestClient, sent: dict[str, str], fields: list[str]
) -> None:
    reply = client.get(PATH, params=sent)
    assert reply.status_code == 422
    errors = reply.json()["errors"]
    assert [error["field"] for error in errors] == fields
    assert [error["value"] for error in errors] == [sent.get(field, "") for field in fields]
    assert all("drug, fluid" in error["accepted"] for error in errors)


def test_a_class_that_leaves_it_open_is_asked_about(client: TestClient) -> None:
    (error,) = client.get(PATH, params={"a": "saline", "b": "abx"}).json()["errors"]
    assert "Which antibiotic?" in error["accepted"]


def test_without_a_token_nothing_is_told(app: FastAPI) -> None:
    with TestClient(app) as stranger:
        assert stranger.get(PATH, params={"a": "saline", "b": "LR"}).status_code == 401


def test_a_note_signed_meanwhile_counts_at_once(client: TestClient, app: FastAPI) -> None:
    pair = {"a": "levosimendan", "b": "ketamine"}
    assert client.get(PATH, params=pair).json()["keep_apart"]
    with transaction(app.state.engine) as session:
        sign_note(session, signed("ketamine", "levosimendan"))
    told = client.get(PATH, params=pair).json()
    assert (told["verdict"], told["keep_apart"]) == ("may run together", False)
    assert told["parts"][0]["notes"][0]["by"] == "R. Almeida"


def test_without_a_database_the_facts_are_told_without_notes(
    client: TestClient, app: FastAPI
) -> None:
    engine = app.state.engine
    app.state.engine = create_engine("sqlite://")
    try:
        told = client.get(PATH, params={"a": "red cells", "b": "LR"}).json()
    finally:
        app.state.engine = engine
    assert told["verdict"] == "keep apart"


def test_the_document_describes_it(client: TestClient) -> None:
    replies = client.get("/openapi.json").json()["paths"][PATH]["get"]["responses"]
    assert {"200", "422"} <= set(replies)
