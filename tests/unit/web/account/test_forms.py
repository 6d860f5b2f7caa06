"""The sign-in form, and what is kept beside it."""

from io import BytesIO

import pytest
from fastapi import FastAPI
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request

from app.security.kept import unseal
from app.security.standing import Standing, State
from app.settings import Settings
from app.storage.database import reading
from app.storage.people.accounts import Account
from app.web.account.forms import (
    administrators,
    house_address,
    keep,
    people_to_show,
    text_of,
    typed_in,
)
from tests.people import person_in, the_clock


def request_to(app: FastAPI, path: str = "/x", query: str = "", **state: object) -> Request:
    return Request(
        {
            "type": "http", "method": "POST", "path": path, "query_string": query.encode(),
            "headers": [(b"host", b"ward")], "server": ("ward", 80), "scheme": "http", "app": app,
            "state": state,
        }
    )  # fmt: skip


def test_what_was_typed_is_kept_with_its_address_and_whose_it_is(own_app: FastAPI) -> None:
    form = FormData([("note", "late"), ("note", "lost"), ("sign_in", "ines"), ("kept", "old")])
    standing = Standing(State.LOCKED, person_in())
    sealed, note = keep(request_to(own_app, "/x", "a=1", standing=standing), form)
    kept = unseal(sealed, own_app.state.settings.secret, the_clock())
    assert kept is not None
    assert kept.by == person_in().account_id
    assert kept.address == "/x?a=1"
    assert kept.fields == (("note", "late"), ("note", "lost"))
    assert note == ""


def test_of_nothing_typed_nothing_is_kept(own_app: FastAPI) -> None:
    assert keep(request_to(own_app), FormData([("again", "1"), ("note", "")])) == ("", "")


def test_a_file_is_no_text() -> None:
    form = FormData([("paper", UploadFile(BytesIO(b"x"), filename="p.csv")), ("note", "late")])
    assert list(typed_in(form)) == [("note", "late")]
    assert text_of(form, "paper") == text_of(form, "none") == ""


def test_whom_to_ask_are_the_administrators_that_are_active(
    own_app: FastAPI, people: dict[str, Account]
) -> None:
    with reading(own_app.state.engine) as session:
        assert administrators(session) == "Wanda Prill"


@pytest.mark.parametrize("demo", [True, False])
def test_people_are_shown_in_the_demo_alone(
    own_app: FastAPI, people: dict[str, Account], *, demo: bool
) -> None:
    shown, first = people_to_show(request_to(own_app), Settings(demo=demo))
    assert shown == ()  # these are real accounts
    assert first == ""


def test_without_a_house_no_way_leads_there() -> None:
    assert house_address(Settings(), "/x") == ""
