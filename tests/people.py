"""Browsers of people in each role, for tests of pages."""

from contextlib import ExitStack
from typing import Any

from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.acts import Role
from app.security.person import Person

# Between them they may do all that nurses, prescribers and pharmacists may.
EVERYDAY = (Role.NURSE, Role.PRESCRIBER, Role.PHARMACIST)


def person_in(*roles: Role) -> Person:
    """Somebody of our invention in these roles."""
    words = "-".join(sorted(roles))
    return Person(f"test-{words}", f"Test {words.capitalize()}", frozenset(roles), "local")


class Clients:
    """clients(app, role, …): a browser in which such a person is signed in; none: signed out."""

    def __init__(self) -> None:
        self.opened = ExitStack()

    def __call__(self, app: FastAPI, *roles: Role, **how: Any) -> TestClient:  # noqa: ANN401
        served = _as_person(app, person_in(*roles)) if roles else app
        client = TestClient(served, **{"raise_server_exceptions": False, **how})  # type: ignore[arg-type]
        client.app = app  # type: ignore[assignment]
        return self.opened.enter_context(client)


def _as_person(app: FastAPI, person: Person) -> object:
    async def served(scope: Any, receive: Any, send: Any) -> None:  # noqa: ANN401
        scope.setdefault("state", {})
        if scope["type"] == "http":
            scope["state"] = {**scope["state"], "person": person}
        await app(scope, receive, send)

    return served
