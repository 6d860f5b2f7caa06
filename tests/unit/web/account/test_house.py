"""Out to the hospital's own sign-in and back, through the whole app."""

from collections.abc import Iterator
from urllib.parse import parse_qsl, urlsplit

import httpx
import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.main import create_app
from app.security.acts import Role
from app.security.oidc.house import House
from app.settings import Settings
from app.storage.database import connect, migrate, transaction
from app.storage.seed import seed
from tests.conftest import LOADED
from tests.provider import CLIENT, SECRET, Lies, Provider, Somebody, running

GROUPS = {"ward-nurses": Role.NURSE, "pharmacy": Role.PHARMACIST, "it": Role.ADMINISTRATOR}


@pytest.fixture(scope="module")
def provider() -> Iterator[Provider]:
    with running(Provider()) as one:
        yield one


@pytest.fixture(scope="module")
def joined(tmp_path_factory: pytest.TempPathFactory, provider: Provider) -> FastAPI:
    """An app joined to the provider, with no account of its own."""
    url = f"sqlite:///{tmp_path_factory.mktemp('house') / 'unit.db'}"
    engine = connect(url)
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    engine.dispose()
    house = House(provider.address, CLIENT, "http://testserver", GROUPS, SECRET)
    return create_app(Settings(database_url=url, secret="a secret of tests", house=house))


@pytest.fixture
def browser(joined: FastAPI, provider: Provider) -> Iterator[TestClient]:
    provider.lies = Lies()
    provider.people = {
        "mira": Somebody("s-1", "Mira Tal", ["ward-nurses"]),
        "odd": Somebody("s-2", "Odd Berg", ["choir"]),
        "ina": Somebody("s-3", "Ina Vold", ["pharmacy"]),
    }
    with TestClient(joined, follow_redirects=False) as client:
        yield client


def at_provider(address: str, who: str) -> str:
    """Sign in there by a name; the address of ours that the browser is sent back to."""
    asked = dict(parse_qsl(urlsplit(address).query))
    answer = httpx.post(address.partition("?")[0], data={**asked, "who": who}, trust_env=False)
    back = urlsplit(answer.headers["location"])
    return f"{back.path}?{back.query}"


def there_and_back(browser: TestClient, who: str, back: str = "/") -> httpx.Response:
    out = browser.get("/sign-in/house", params={"back": back})
    assert out.status_code == 303
    return browser.get(at_provider(out.headers["location"], who))


def test_the_sign_in_page_leads_to_the_hospitals_sign_in(browser: TestClient) -> None:
    page = browser.get("/patients/bed-09")
    assert page.status_code == 401
    assert "/sign-in/house?back=%2Fpatients%2Fbed-09" in page.text


def test_somebody_comes_back_to_where_they_were(browser: TestClient) -> None:
    answer = there_and_back(browser, "mira", "/patients/bed-09")
    assert (answer.status_code, answer.headers["location"]) == (303, "/patients/bed-09")
    page = browser.get("/patients/bed-09")
    assert page.status_code == 200
    assert "Mira Tal" in page.text


def test_groups_decide_what_somebody_may(browser: TestClient) -> None:
    there_and_back(browser, "mira")
    assert browser.get("/accounts").status_code == 403
    assert browser.get("/").status_code == 200


def test_somebody_in_no_group_of_ours_is_told_whom_to_ask(browser: TestClient) -> None:
    answer = there_and_back(browser, "odd")
    assert answer.status_code == 401
    assert "None of your groups has a role here" in answer.text
    assert browser.get("/patients/bed-09").status_code == 401


def test_a_way_that_another_browser_began_is_not_finished(
    browser: TestClient, joined: FastAPI
) -> None:
    out = browser.get("/sign-in/house")
    back = at_provider(out.headers["location"], "mira")
    with TestClient(joined, follow_redirects=False) as other:
        answer = other.get(back)
    assert answer.status_code == 401
    assert "begun in another browser" in answer.text


def test_nobody_is_sent_to_another_site(browser: TestClient) -> None:
    answer = there_and_back(browser, "mira", "https://elsewhere.example/")
    assert answer.headers["location"].startswith("/")


def test_a_lie_of_the_providers_is_told_and_nobody_signed_in(
    browser: TestClient, provider: Provider
) -> None:
    out = browser.get("/sign-in/house")
    back = at_provider(out.headers["location"], "mira")
    provider.lies = Lies(claims={"aud": "another"})
    answer = browser.get(back)
    assert answer.status_code == 401
    assert "was not taken" in answer.text
    assert browser.get("/").status_code == 401


def test_while_the_provider_is_down_an_administrator_is_named(
    browser: TestClient, joined: FastAPI, provider: Provider, monkeypatch: pytest.MonkeyPatch
) -> None:
    provider.lies = Lies(fault=503)
    monkeypatch.setattr(joined.state.asking.desk, "_provider", None)
    answer = browser.get("/sign-in/house")
    assert answer.status_code == 503
    assert "administrator" in answer.text


def test_what_was_typed_is_shown_again_after_signing_in_beside_it(browser: TestClient) -> None:
    typed = {"fluid": "0.9% sodium chloride", "rate": "125"}
    lost = browser.post("/orders/review", data=typed)
    assert lost.status_code == 401
    assert "in a tab of its own" in lost.text
    kept = lost.text.split('name="kept" value="')[1].split('"')[0]
    too_early = browser.post("/sign-in/house/on", data={"kept": kept})
    assert too_early.status_code == 401
    assert "not signed in yet" in too_early.text
    there_and_back(browser, "mira")
    shown = browser.post("/sign-in/house/on", data={"kept": kept})
    assert shown.status_code == 200
    assert "0.9% sodium chloride" in shown.text


def test_a_page_that_was_locked_opens_for_its_own_person_alone(browser: TestClient) -> None:
    there_and_back(browser, "ina")
    part = {"HX-Request": "true"}
    same = browser.post("/sign-in/house/on", data={"was": "Ina Vold"}, headers=part)
    other = browser.post("/sign-in/house/on", data={"was": "Mira Tal"}, headers=part)
    assert "again-open" in same.text
    assert "This page is Mira Tal’s" in other.text


def test_a_server_without_a_house_says_so(app: FastAPI) -> None:
    with TestClient(app, follow_redirects=False) as client:
        assert "not joined" in client.get("/sign-in/house").text
        assert "not joined" in client.get("/sign-in/house/back?code=x&state=y").text
