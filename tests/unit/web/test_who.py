import pytest
from fastapi import HTTPException
from starlette.requests import Request

from app.security.acts import Role
from app.web.who import person_of, signed_in
from tests.people import person_in


def request_of(**state: object) -> Request:
    return Request({"type": "http", "method": "GET", "path": "/", "headers": [], "state": state})


def test_whoever_is_signed_in_is_known_by_the_request() -> None:
    person = person_in(Role.NURSE)
    assert person_of(request_of(person=person)) is person
    assert signed_in(request_of(person=person)) is person


def test_nobody_is_made_up_for_a_request_without_a_person() -> None:
    assert person_of(request_of()) is None
    assert person_of(request_of(person="a name")) is None
    with pytest.raises(HTTPException) as refused:
        signed_in(request_of())
    assert refused.value.status_code == 401
