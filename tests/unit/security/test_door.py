"""Who comes in, before any page sees the request."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI, Request
from fastapi.responses import PlainTextResponse
from fastapi.testclient import TestClient
from sqlalchemy import Engine
from starlette.middleware import Middleware
from starlette.responses import Response

from app.security.acts import Act, Role, Scope
from app.security.cookies import PLAIN_NAME
from app.security.door import Door, TurnedAway, Why
from app.security.gate import Gate, Open
from app.security.machines import Machine
from app.settings import Settings
from app.storage.database import transaction
from app.storage.people.accounts import (
    NewAccount,
    add_account,
    find_account,
    set_password,
    set_roles,
)
from app.storage.people.sessions import begin_session, held_by

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
ADMITS = {
    ("GET", "/open"): Open.ALL,
    ("GET", "/mine"): Open.SIGNED_IN,
    ("GET", "/read"): Act.READ_CATALOGUE,
    ("GET", "/beds"): Act.SEE_PATIENTS,
    ("POST", "/tell"): Act.TELL,
    ("GET", "/stock/news"): Act.READ_CATALOGUE,
    ("POST", "/api/review"): Scope.REVIEW,
}


class Said:
    """A voice that says why, and remembers whom it turned away."""

    def __init__(self) -> None:
        self.turned: list[TurnedAway] = []

    def refuse(self, request: Request, status: int, text: str = "") -> Response:
        return PlainTextResponse("refused", status)

    async def turn_away(self, request: Request, turned: TurnedAway) -> Response:
        self.turned.append(turned)
        return PlainTextResponse(turned.why.value, 405 if turned.why is Why.NOT_WRITTEN else 401)

    def stop_machine(self, request: Request, machine: Machine) -> Response:
        return PlainTextResponse(machine.stopped.value, 401)


class Clock:
    """A clock that a test turns."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def said() -> Said:
    return Said()


@pytest.fixture
def clock() -> Clock:
    return Clock()


def who(request: Request) -> str:
    person = getattr(request.state, "person", None)
    return person.name if person else "nobody"


@pytest.fixture
def app(engine: Engine, said: Said, clock: Clock) -> FastAPI:
    door = Middleware(Door, voice=said, gate=Gate(ADMITS), clock=clock)
    app = FastAPI(middleware=[door], openapi_url=None)
    app.state.settings, app.state.engine = Settings(api_tokens=frozenset({"whole"})), engine
    app.state.asking = None
    for method, path in ADMITS:
        app.add_api_route(path, who, methods=[method])

    @app.get("/static/x")
    def static() -> Response:
        return PlainTextResponse("x", headers={"Cache-Control": "max-age=9"})

    @app.get("/unknown")
    def unknown() -> str:
        raise AssertionError("a route that the table does not name was reached")

    return app


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    with TestClient(app) as client:
        yield client


@pytest.fixture
def ines(engine: Engine, client: TestClient) -> str:
    """A nurse, signed in; her key."""
    with transaction(engine) as session:
        account = add_account(session, NewAccount("ines", "Ines", frozenset({"nurse"})), NOW)
        key = begin_session(session, account.id, via="local", now=NOW)
    client.cookies.set(PLAIN_NAME, key)
    return key


def test_what_is_open_to_all_is_open_and_nobody_is_made_up(client: TestClient) -> None:
    assert client.get("/open").json() == "nobody"


@pytest.mark.parametrize("path", ["/mine", "/read", "/beds"])
def test_whoever_is_signed_out_is_asked_to_sign_in(
    client: TestClient, said: Said, path: str
) -> None:
    assert client.get(path).status_code == 401
    assert said.turned[-1].why is Why.SIGN_IN


def test_reading_is_open_to_all_where_it_is_set_so_but_never_with_a_patient(
    app: FastAPI, client: TestClient
) -> None:
    app.state.settings = Settings(open_reading=True)
    assert client.get("/read").json() == "nobody"
    assert client.get("/read?patient=").json() == "nobody"
    assert client.get("/read?patient=bed-1").status_code == 401
    assert client.get("/read?patient=&patient=bed-1").status_code == 401
    assert client.get("/beds").status_code == 401


def test_somebody_signed_in_comes_in_by_name(client: TestClient, ines: str) -> None:
    assert client.get("/beds").json() == "Ines"
    assert client.get("/read?patient=bed-1").json() == "Ines"
    assert client.post("/tell").json() == "Ines"


def test_a_role_that_may_not_is_told_what_it_lacks(
    engine: Engine, client: TestClient, ines: str, said: Said
) -> None:
    with transaction(engine) as session:
        account = find_account(session, "ines")
        assert account is not None
        set_roles(session, account.id, [Role.EDUCATOR])
    assert client.get("/read?patient=bed-1").status_code == 401
    assert said.turned[-1].lacks == (Act.SEE_PATIENTS,)
    assert client.post("/tell?patient=bed-1").status_code == 401
    assert said.turned[-1].why is Why.FORBIDDEN
    assert said.turned[-1].lacks == (Act.TELL, Act.SEE_PATIENTS)


def test_other_roles_give_the_browser_another_key_even_when_it_is_turned_away(
    engine: Engine, client: TestClient, ines: str
) -> None:
    held = held_by(engine, ines)
    assert held is not None
    with transaction(engine) as session:
        set_roles(session, held.account_id, [Role.EDUCATOR])
    answer = client.get("/beds")
    assert "HttpOnly" in answer.headers["set-cookie"]
    assert held_by(engine, ines) is None
    client.cookies.clear()
    client.cookies.set(PLAIN_NAME, answer.cookies[PLAIN_NAME])
    assert client.get("/mine").json() == "Ines"


def test_a_locked_session_is_asked_to_unlock_and_nobody_is_present(
    client: TestClient, ines: str, clock: Clock, said: Said
) -> None:
    clock.now += timedelta(minutes=15)
    assert client.get("/beds").status_code == 401
    assert said.turned[-1].why is Why.UNLOCK
    assert client.get("/open").json() == "nobody"


def test_an_open_page_that_asks_by_itself_keeps_no_session_open(
    client: TestClient, ines: str, clock: Clock
) -> None:
    for _ in range(20):
        clock.now += timedelta(minutes=1)
        client.get("/stock/news")
    assert client.get("/beds").status_code == 401


def test_a_first_password_is_changed_before_anything_else(
    engine: Engine, client: TestClient, ines: str, said: Said
) -> None:
    held = held_by(engine, ines)
    assert held is not None
    with transaction(engine) as session:
        set_password(session, held.account_id, "hash", must_change=True)
    assert client.get("/beds").status_code == 401
    assert said.turned[-1].why is Why.CHOOSE_PASSWORD
    assert client.get("/mine").json() == "Ines"


def test_a_route_that_the_table_does_not_name_is_not_there(client: TestClient, ines: str) -> None:
    assert client.get("/unknown").status_code == 404
    assert client.get("/nothing").status_code == 404


def test_a_form_sent_to_an_address_that_is_only_read_may_be_the_lock_pages(
    client: TestClient, said: Said, engine: Engine
) -> None:
    assert client.post("/beds").status_code == 401
    assert said.turned[-1].why is Why.SIGN_IN
    assert client.post("/open").status_code == 405
    answer = client.delete("/beds")
    assert (answer.status_code, answer.headers["allow"]) == (405, "GET")


def test_a_form_sent_by_somebody_signed_in_to_what_is_only_read_is_refused(
    client: TestClient, ines: str
) -> None:
    assert client.post("/beds").status_code == 405


def test_a_slash_at_the_end_needs_what_the_address_needs(
    client: TestClient, said: Said, ines: str
) -> None:
    assert client.get("/beds/").json() == "Ines"
    client.cookies.clear()
    assert client.get("/beds/").status_code == 401


def test_machines_come_in_by_their_token_and_people_do_not(client: TestClient, ines: str) -> None:
    whole = {"Authorization": "Bearer whole"}
    assert client.post("/api/review", headers=whole).status_code == 200
    assert client.post("/api/review").status_code == 401
    assert client.get("/beds", headers=whole).json() == "Ines"
    client.cookies.clear()
    assert client.get("/beds", headers=whole).status_code == 401


def test_nothing_is_kept_in_a_cache_but_what_is_static(client: TestClient, ines: str) -> None:
    for path in ("/open", "/beds", "/nothing"):
        assert client.get(path).headers["cache-control"] == "no-store"
    assert client.post("/api/review").headers["cache-control"] == "no-store"
    assert client.get("/static/x").headers["cache-control"] == "max-age=9"


def test_a_stroke_at_the_end_is_led_away_from_on_this_host_alone(client: TestClient) -> None:
    answer = client.get("/open/?a=1", headers={"Host": "elsewhere.example"}, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (307, "/open?a=1")
    assert client.get("/mine/", follow_redirects=False).status_code == 401
    assert client.get("/open//", follow_redirects=False).status_code == 404
