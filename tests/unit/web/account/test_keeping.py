"""An act is written into the trail in the transaction of what was done, or neither is."""

import pytest
from fastapi import FastAPI, HTTPException
from sqlalchemy import text
from starlette.requests import Request

from app.security.acts import Role
from app.storage.database import reading, transaction
from app.web.account.keeping import noted
from tests.people import person_in

WHAT = "who, act, subject, before, after"


def request_of(app: FastAPI, **state: object) -> Request:
    return Request({"type": "http", "method": "POST", "path": "/", "headers": [], "app": app,
                    "state": state})  # fmt: skip


def test_the_trail_says_who_did_what(own_app: FastAPI) -> None:
    request = request_of(own_app, person=person_in(Role.ADMINISTRATOR))
    with transaction(own_app.state.engine) as session:
        noted(request, session, "token made", "token:t-1", after={"name": "record"})
    with reading(own_app.state.engine) as session:
        row = session.execute(text(f"SELECT {WHAT} FROM trail_row WHERE act = 'token made'")).one()
    assert tuple(row) == (
        "Test administrator", "token made", "token:t-1", None, '{"name":"record"}',
    )  # fmt: skip


def test_nobody_signed_in_does_nothing(own_app: FastAPI) -> None:
    with pytest.raises(HTTPException), transaction(own_app.state.engine) as session:
        noted(request_of(own_app), session, "token made", "token:t-1")
