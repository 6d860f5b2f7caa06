"""The table of who comes in, held against the routes there are, and every route tried:
signed out, in a wrong role, and in a right one.
"""

import re
from collections.abc import Iterator
from functools import cache
from tempfile import mkdtemp

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from starlette.routing import compile_path

from app.main import create_app
from app.security.acts import MAY, Act, Role, Scope, roles_that_may
from app.security.gate import ADMITS, UNATTENDED, Gate, Open
from app.settings import Settings, read_settings
from app.storage.database import connect, migrate, transaction
from app.storage.people.tokens import make_token
from app.storage.seed import seed
from tests.conftest import LOADED
from tests.contract.routes import routes_of
from tests.people import Clients

PEOPLES = {at: need for at, need in ADMITS.items() if not isinstance(need, Scope)}
MACHINES = {at: need for at, need in ADMITS.items() if isinstance(need, Scope)}
KEPT = {at: need for at, need in PEOPLES.items() if isinstance(need, Act)}
READ = {at: need for at, need in KEPT.items() if need is Act.READ_CATALOGUE}
DOOR_SHUT = {401, 403}
# Part of a page that a role lacks, so that a door that opens to everyone is seen.
SIGN_IN = 'name="password"'


def names(at: tuple[str, str]) -> str:
    return f"{at[0]} {at[1]}"


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """The app over the demo unit, where reading is not open to all."""
    url = f"sqlite:///{tmp_path_factory.mktemp('gate') / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    engine.dispose()
    return create_app(
        read_settings(
            {
                "RINGSIDE_DEMO": "1",
                "RINGSIDE_DATABASE_URL": url,
                "RINGSIDE_OPEN_READING": "0",
                "RINGSIDE_API_TOKENS": "all-parts",
            }
        )
    )


@pytest.fixture(scope="module")
def browsers(app: FastAPI) -> Iterator[dict[Role | None, TestClient]]:
    """A browser in which somebody in each role is signed in, and one where nobody is."""
    clients = Clients()
    with clients.opened:
        yield {
            None: clients(app, follow_redirects=False),
            **{role: clients(app, role, follow_redirects=False) for role in Role},
        }


def address_of(path: str) -> str:
    """An address of this shape, of nothing that exists: only the door is tried."""
    return re.sub(r"\{\w+\}", "nothing-such", path.replace("{number}", "987654321"))


def ask(client: TestClient, at: tuple[str, str], **more: object) -> object:
    return client.request(at[0], address_of(at[1]), **more)  # type: ignore[arg-type]


@cache
def answered() -> frozenset[tuple[str, str]]:
    settings = Settings(database_url=f"sqlite:///{mkdtemp()}/routes.db")
    app = create_app(settings)
    return frozenset(
        (method, route.path) for route in routes_of(app) for method in route.methods - {"HEAD"}
    )


def test_every_route_stands_in_the_table() -> None:
    assert answered() - set(ADMITS) == set()


def test_every_line_of_the_table_is_a_route() -> None:
    assert set(ADMITS) - answered() == set()


def test_what_a_page_asks_by_itself_is_a_route_that_only_reads() -> None:
    assert set(UNATTENDED) <= answered()
    assert {method for method, _ in UNATTENDED} == {"GET"}


def test_the_gate_finds_the_very_route_that_will_answer() -> None:
    """An address in full may not be taken by a pattern that the app comes to first."""
    app = create_app(Settings(database_url=f"sqlite:///{mkdtemp()}/routes.db"))
    routes = list(routes_of(app))
    patterns = [(compile_path(route.path)[0], route) for route in routes]
    gate = Gate()
    for method, path in ADMITS:
        asked = address_of(path)
        taken = next(
            route.path
            for pattern, route in patterns
            if method in route.methods and pattern.match(asked)
        )
        assert gate.find(method, asked).template == taken, asked


@pytest.mark.parametrize("at", sorted(PEOPLES), ids=names)
def test_somebody_who_is_signed_out(
    browsers: dict[Role | None, TestClient], at: tuple[str, str]
) -> None:
    answer = ask(browsers[None], at)
    if PEOPLES[at] is Open.ALL:
        assert answer.status_code not in DOOR_SHUT or at[1].startswith("/sign-in")
    elif at in UNATTENDED and at != ("GET", "/account/watch"):
        assert answer.status_code == 401
        assert answer.text == ""
    else:
        assert answer.status_code == 401
        assert SIGN_IN in answer.text
    assert answer.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("at", sorted(KEPT), ids=names)
def test_somebody_in_a_role_that_may_not(
    browsers: dict[Role | None, TestClient], at: tuple[str, str]
) -> None:
    act = KEPT[at]
    assert isinstance(act, Act)
    for role in Role:
        if act not in MAY[role]:
            answer = ask(browsers[role], at)
            assert answer.status_code == 403, role
            assert all(str(may) in answer.text for may in roles_that_may(act))
            assert f"You are signed in as {role}" in answer.text


@pytest.mark.parametrize("at", sorted(PEOPLES), ids=names)
def test_somebody_in_a_role_that_may(
    browsers: dict[Role | None, TestClient], at: tuple[str, str]
) -> None:
    if at in {("POST", "/account/lock"), ("POST", "/account/sign-out-everywhere")} or at[
        1
    ].startswith(("/sign-", "/look")):
        pytest.skip("ends or locks the session it is tried with; tested by itself")
    need = PEOPLES[at]
    for role in roles_that_may(need) if isinstance(need, Act) else Role:
        answer = ask(browsers[role], at)
        assert answer.status_code not in {*DOOR_SHUT, 405}, role
        assert answer.status_code < 500, role


@pytest.mark.parametrize("at", sorted(READ), ids=names)
def test_reading_of_the_catalogue_names_no_patient_to_who_may_not_see_one(
    browsers: dict[Role | None, TestClient], at: tuple[str, str]
) -> None:
    for role in (Role.EDUCATOR, Role.ADMINISTRATOR):
        answer = ask(browsers[role], at, params={"patient": "bed-04"})
        assert answer.status_code == 403
        assert "see patients" in answer.text
        assert ask(browsers[role], at, params={"patient": " "}).status_code != 403
    assert ask(browsers[None], at, params={"patient": "bed-04"}).status_code == 401


@pytest.mark.parametrize("at", sorted(MACHINES), ids=names)
def test_a_machine(
    app: FastAPI, browsers: dict[Role | None, TestClient], at: tuple[str, str]
) -> None:
    part = MACHINES[at]
    with transaction(app.state.engine) as session:
        lasts = (LOADED, LOADED.replace(year=2999))
        _, key = make_token(session, "this part", [part], by="test", lasts=lasts)
        others = set(Scope) - {part}
        _, other = make_token(session, "other parts", others, by="test", lasts=lasts)

    def status(token: str) -> int:
        headers = {"Authorization": f"Bearer {token}"} if token else {}
        return int(ask(browsers[None], at, headers=headers).status_code)

    assert status("") == 401
    assert status("wrong") == 401
    assert status(other) == 403
    assert status(key) not in {*DOOR_SHUT, 405}
    assert status("all-parts") not in {*DOOR_SHUT, 405}
    # A person's browser opens no part of it: no page of ours asks there.
    assert ask(browsers[Role.PHARMACIST], at).status_code == 401


def test_no_address_outside_the_table_reaches_the_app(
    browsers: dict[Role | None, TestClient],
) -> None:
    for path in ("/nowhere", "/patients", "/api/nothing", "/catalogue/x/y/z"):
        assert browsers[Role.PHARMACIST].get(path).status_code == 404
    for at in (("DELETE", "/"), ("PUT", "/api/review"), ("PATCH", "/accounts")):
        answer = ask(browsers[Role.ADMINISTRATOR], at)
        assert answer.status_code == 405
        assert answer.headers["allow"]
