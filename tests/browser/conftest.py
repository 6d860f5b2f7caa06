"""The app on a free port over a freshly loaded demo unit, and a browser that forgives nothing."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe
from fastapi import FastAPI
from playwright.sync_api import Browser, Page, expect, sync_playwright

from app.main import create_app
from app.security.acts import Role
from app.security.passwords import hash_password
from app.settings import Settings
from app.storage.database import connect, migrate, transaction
from app.storage.people.demo import DEMO_PASSWORD, load_demo_people
from app.storage.seed import seed
from tests.conftest import LOADED
from tests.people import COOKIE, EVERYDAY, key_for

# Longer than the pause after which typing is sent.
AFTER_THE_LAST_KEY_MS = 400

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
# A refused form is answered with 422, one that came second with 409, and a door that stays shut
# with 401, 403 or 429; a browser notes each as a failed load.
EXPECTED = ("status of 422", "status of 409", "status of 401", "status of 403", "status of 429")
STARTS_WITHIN_S = 30
DESK = {"width": 1280, "height": 900}


@dataclass(frozen=True)
class Served:
    """The app on a port of its own."""

    app: FastAPI
    address: str


OpenPage = Callable[..., Page]
CookieOf = Callable[..., dict[str, str]]
Tell = Callable[..., Page]


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The app, and where it answers."""
    url = f"sqlite:///{tmp_path_factory.mktemp('unit') / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
        load_demo_people(session, hash_password(DEMO_PASSWORD), LOADED)
    engine.dispose()
    listener = socket.create_server(("127.0.0.1", 0))
    app = create_app(Settings(database_url=url, demo=True, open_reading=True))
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    _wait(lambda: server.started)
    yield Served(app, f"http://127.0.0.1:{listener.getsockname()[1]}")
    server.should_exit = True
    thread.join(STARTS_WITHIN_S)
    listener.close()


@pytest.fixture(scope="session")
def address(served: Served) -> str:
    """Where the app answers."""
    return served.address


@pytest.fixture(scope="session")
def cookie_of(served: Served) -> CookieOf:
    """cookie_of(Role.NURSE, …): what the browser of somebody in these roles holds."""

    def made(*roles: Role) -> dict[str, str]:
        key = key_for(served.app.state.engine, *roles)
        return {"name": COOKIE, "value": key, "url": served.address}

    return made


def _wait(ready: Callable[[], bool]) -> None:
    until = time.monotonic() + STARTS_WITHIN_S
    while not ready():
        assert time.monotonic() < until, "the server did not start"
        time.sleep(0.05)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's chromium."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


def without_replaced(errors: list[str]) -> list[str]:
    """What the browser said, less what htmx says of a request that a newer one took the place of:
    the end of the request and the abort, in this order.
    """
    kept: list[str] = []
    for error in errors:
        if error.startswith("htmx:sendAbort") and kept and kept[-1].startswith("htmx:afterRequest"):
            kept.pop()
        else:
            kept.append(error)
    return kept


@pytest.fixture
def open_page(browser: Browser, address: str, cookie_of: CookieOf) -> Iterator[OpenPage]:
    """open_page(path, script=…, viewport=…): a page of somebody who is nurse, prescriber and
    pharmacist, or in these roles=…; none of them is signed out. Any error of the browser fails the
    test; so does an answer of another status than status=….
    """
    errors: list[str] = []
    contexts = []

    def open_(
        path: str,
        *,
        script: bool = True,
        roles: tuple[Role, ...] = EVERYDAY,
        status: int = 200,
        **options: object,
    ) -> Page:
        settings = {"viewport": DESK, "java_script_enabled": script, **options}
        context = browser.new_context(base_url=address, **settings)  # type: ignore[arg-type]
        contexts.append(context)
        if roles:
            context.add_cookies([cookie_of(*roles)])  # type: ignore[list-item]
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
        answer = page.goto(path)
        assert answer is not None
        assert answer.status == status
        return page

    yield open_
    for context in contexts:
        context.close()
    assert [
        error for error in without_replaced(errors) if not any(one in error for one in EXPECTED)
    ] == []


@pytest.fixture
def tell(open_page: OpenPage) -> Iterator[Tell]:
    """tell(fluid_id, state, …): a second person tells of stock on the card; at the end of the test
    nobody has told of these fluids any more, since every test sees the same unit.
    """
    told: set[str] = set()

    def tell_(fluid_id: str, state: str, note: str = "", **how: object) -> Page:
        told.add(fluid_id)
        card = open_page(f"/catalogue/{fluid_id}", **how)
        card.locator("#stock summary").click()
        card.get_by_label("Where it is", exact=True).select_option(state)
        card.get_by_label("Why, and until when").fill(note)
        card.get_by_role("button", name="Tell everyone").click()
        return card

    yield tell_
    for fluid_id in sorted(told):
        tell_(fluid_id, "not told")


@pytest.fixture(scope="session")
def barriers() -> Callable[[Page], list[str]]:
    """What axe finds in the way of people who use no mouse or no screen."""

    def found(page: Page) -> list[str]:
        violations = Axe().run(page).response["violations"]
        return [f"{v['id']}: {v['nodes'][0]['html'][:120]}" for v in violations]

    return found


@pytest.fixture(scope="session")
def too_wide() -> Callable[[Page], int]:
    """By how many pixels a page is wider than its window."""

    def excess(page: Page) -> int:
        script = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        return int(page.evaluate(script))

    return excess


@pytest.fixture(scope="session")
def settled() -> Callable[[Page], None]:
    """Wait until the review of the last key typed has come: a page typed slowly is reviewed more
    than once, and an earlier review may already say what is looked for.
    """

    def wait(page: Page) -> None:
        page.wait_for_timeout(AFTER_THE_LAST_KEY_MS)
        expect(page.locator(".htmx-request")).to_have_count(0)

    return wait
