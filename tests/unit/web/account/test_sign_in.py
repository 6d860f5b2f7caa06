"""Signing in, signing out, and what is said when it does not work."""

import re

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import delete

from app.main import create_app
from app.settings import read_settings
from app.storage.database import transaction
from app.storage.people.accounts import Account
from app.storage.people.demo import DEMO_PASSWORD, load_demo_people
from app.storage.people.sessions import begin_session
from app.storage.people.tables import AccountRow
from tests.people import COOKIE, Clients
from tests.unit.web.account.conftest import HASHED, NOW, PASSWORD, enter, grow_old


def test_a_page_asked_for_signed_out_shows_the_form_at_its_own_address_and_leads_back(
    browser: TestClient,
) -> None:
    asked = browser.get("/patients/bed-04")
    assert asked.status_code == 401
    assert '<form class="sign-in-form" method="post">' in asked.text
    assert "T.H." not in asked.text
    # The form is sent to the very address, so that the browser keeps its place in the page.
    answer = browser.post(
        "/patients/bed-04", data={"again": "1", "sign_in": "ines", "password": PASSWORD}
    )
    assert (answer.status_code, answer.headers["location"]) == (303, "/patients/bed-04")
    assert browser.get("/patients/bed-04").status_code == 200


def test_the_sign_in_page_leads_to_where_somebody_came_from_and_never_elsewhere(
    browser: TestClient,
) -> None:
    assert enter(browser, back="/rules?x=1").headers["location"] == "/rules?x=1"
    for elsewhere in ("https://elsewhere.example/", "//elsewhere.example", "\\\\elsewhere.example"):
        assert enter(browser, back=elsewhere).headers["location"] == "/"


@pytest.mark.parametrize(
    ("name", "home"), [("ines", "/"), ("wanda", "/accounts"), ("adaeze", "/compare")]
)
def test_everybody_begins_with_a_page_they_may_see(
    browser: TestClient, name: str, home: str
) -> None:
    assert enter(browser, name).headers["location"] == home
    assert browser.get(home).status_code == 200
    assert browser.get("/sign-in").headers["location"] == home


def test_the_key_changes_at_every_signing_in_and_stands_in_no_page(browser: TestClient) -> None:
    planted = {"Cookie": f"{COOKIE}=planted"}
    data = {"sign_in": "ines", "password": PASSWORD}
    first = browser.post("/sign-in", data=data, headers=planted).cookies[COOKIE]
    assert first != "planted"
    assert first not in browser.get("/").text
    enter(browser)
    assert browser.cookies[COOKIE] != first


@pytest.mark.parametrize(("name", "password"), [("ines", "wrong"), ("nobody", PASSWORD), ("", "")])
def test_a_wrong_name_and_a_wrong_password_are_answered_alike_and_the_name_stays(
    browser: TestClient, name: str, password: str
) -> None:
    answer = enter(browser, name, password)
    assert answer.status_code == 401
    assert "not right" in answer.text
    assert "nobody" not in answer.text.replace('value="nobody"', "")
    assert password == "" or password not in answer.text
    assert "set-cookie" not in answer.headers


def test_too_many_wrong_tries_wait_and_say_how_long(browser: TestClient) -> None:
    for _ in range(5):
        assert enter(browser, password="wrong").status_code == 401
    answer = enter(browser)
    assert answer.status_code == 429
    assert answer.headers["retry-after"] in ("1", "2")
    assert re.search(r"Try again in \d seconds?;", answer.text)
    assert "An administrator can end the wait." in answer.text
    assert enter(browser, "mirela").status_code == 303


def test_signing_out_ends_the_session_itself_and_not_only_the_cookie(browser: TestClient) -> None:
    enter(browser)
    key = browser.cookies[COOKIE]
    answer = browser.post("/sign-out")
    assert (answer.status_code, answer.headers["location"]) == (303, "/sign-in")
    assert COOKIE not in browser.cookies
    browser.cookies.set(COOKIE, key)
    assert browser.get("/").status_code == 401
    assert browser.post("/sign-out").status_code == 303


def test_after_its_hours_one_signs_in_anew_by_name_and_password(browser: TestClient) -> None:
    enter(browser)
    grow_old(browser)
    answer = browser.get("/")
    assert answer.status_code == 401
    assert "<h1>Sign in</h1>" in answer.text
    assert 'name="sign_in" value="ines"' in answer.text


def test_while_nobody_can_sign_in_the_page_says_which_command_makes_the_first(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account]
) -> None:
    assert "Nobody can sign in yet" not in browser.get("/sign-in").text
    with transaction(own_app.state.engine) as session:
        session.execute(delete(AccountRow))
    page = browser.get("/sign-in").text
    assert "Nobody can sign in yet" in page
    assert "ringside account add NAME --role administrator" in page


def test_demo_people_are_one_tap_away_in_demo_mode_and_nobody_outside_it(
    own_app: FastAPI, browser: TestClient, clients: Clients
) -> None:
    with transaction(own_app.state.engine) as session:
        load_demo_people(session, HASHED, NOW)
    page = browser.get("/sign-in").text
    assert page.count("sign-in-tap") == 6
    assert DEMO_PASSWORD in page
    assert enter(browser, "nurse").status_code == 303
    url = own_app.state.engine.url.render_as_string(hide_password=False)
    real = clients(create_app(read_settings({"RINGSIDE_DATABASE_URL": url})))
    assert DEMO_PASSWORD not in real.get("/sign-in").text
    assert enter(real, "nurse").status_code == 401
    real.cookies.set(COOKIE, browser.cookies[COOKIE])
    assert real.get("/").status_code == 401


def test_who_is_signed_in_stands_on_every_page_with_a_way_out(
    browser: TestClient, people: dict[str, Account]
) -> None:
    enter(browser, "wanda")
    for path in ("/compare", "/who-may", "/accounts", "/nowhere"):
        page = browser.get(path).text
        assert "Wanda Prill" in page
        assert 'action="/sign-out"' in page
        assert 'href="/accounts/tokens"' in page
        assert '<a href="/"' not in page.split("top-places")[1].split("</nav>")[0]


def test_a_session_by_another_way_shows_no_password_to_unlock_it(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account]
) -> None:
    with transaction(own_app.state.engine) as session:
        key = begin_session(session, people["ines"].id, via="oidc", now=NOW)
    browser.cookies.set(COOKIE, key)
    browser.post("/account/lock")
    page = browser.get("/").text
    assert "Ines Vale" in page
    assert 'name="password"' not in page
