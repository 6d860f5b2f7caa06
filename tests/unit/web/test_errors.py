"""Errors in one voice: a page for people, JSON for programs, never a traceback."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy.exc import DataError
from starlette.middleware import Middleware

from app.intake.errors import InputError, InputErrors
from app.security.headers import Guard
from app.web import errors

ONE = InputError("rate_ml_h", "12o", "a number above 0, in mL/h")
TWO = InputErrors((ONE, InputError("volume_ml", None, "a number above 0, in mL")))


def broken(kind: str) -> None:
    unkept = DataError("INSERT", {}, ValueError("secret detail"))
    raise {"one": ONE, "two": TWO, "ours": RuntimeError("secret detail"), "unkept": unkept}[kind]


def counted(number: int) -> int:
    return number


@pytest.fixture
def failing() -> Iterator[TestClient]:
    app = FastAPI(middleware=[Middleware(Guard, refuse=errors.refuse)])
    errors.install(app)
    for prefix in ("", "/api"):
        app.add_api_route(f"{prefix}/broken/{{kind}}", broken)
        app.add_api_route(f"{prefix}/counted/{{number}}", counted)
    with TestClient(app, raise_server_exceptions=False) as client:
        yield client


def test_a_page_that_is_not_there_says_so_in_the_apps_own_frame(failing: TestClient) -> None:
    answer = failing.get("/nowhere")
    assert answer.status_code == 404
    assert "There is no such page" in answer.text
    assert "Back to the shift" in answer.text


def test_a_wrong_method_is_told_with_what_is_allowed(failing: TestClient) -> None:
    answer = failing.post("/broken/one")
    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET"
    assert "only read" in answer.text


def test_a_page_names_field_value_and_what_is_accepted(failing: TestClient) -> None:
    answer = failing.get("/broken/one")
    assert answer.status_code == 422
    for part in ("rate_ml_h", "12o", "a number above 0, in mL/h"):
        assert part in answer.text


def test_a_program_gets_every_fault_as_data(failing: TestClient) -> None:
    answer = failing.get("/api/broken/two")
    assert answer.status_code == 422
    assert [e["field"] for e in answer.json()["errors"]] == ["rate_ml_h", "volume_ml"]


def test_a_wrong_address_part_names_itself(failing: TestClient) -> None:
    (fault,) = failing.get("/api/counted/many").json()["errors"]
    assert fault["field"] == "number"
    assert fault["value"] == "many"


@pytest.mark.parametrize("prefix", ["", "/api"])
def test_a_fault_of_ours_shows_nothing_of_its_inside(failing: TestClient, prefix: str) -> None:
    answer = failing.get(f"{prefix}/broken/ours")
    assert answer.status_code == 500
    assert "secret detail" not in answer.text
    assert "Traceback" not in answer.text
    assert "content-security-policy" in answer.headers


def test_too_much_at_once_is_told_with_the_limit(failing: TestClient) -> None:
    answer = failing.post("/broken/one", content=b"x" * (2 * 1024 * 1024 + 1))
    assert answer.status_code == 413
    assert "2,048 kB" in answer.text


def test_a_fault_of_input_passes_a_context_manager_unharmed() -> None:
    @contextmanager
    def anything() -> Iterator[None]:
        yield

    with pytest.raises(InputError), anything():
        raise InputError("rate_ml_h", "12o", "a number")


@pytest.mark.parametrize("prefix", ["", "/api"])
def test_a_sign_that_the_database_does_not_keep_is_the_writers_to_mend(
    failing: TestClient, prefix: str
) -> None:
    answer = failing.get(f"{prefix}/broken/unkept")
    assert answer.status_code == 422
    assert "a sign that cannot be kept" in answer.text
    assert "secret detail" not in answer.text and "INSERT" not in answer.text
