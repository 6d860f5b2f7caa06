"""One's own account: password, sessions, locking."""

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.passwords import is_right
from app.storage.database import reading, transaction
from app.storage.people.accounts import Account, password_hash_of
from app.storage.people.sessions import begin_session
from tests.people import COOKIE, Clients
from tests.unit.web.account.conftest import NOW, PASSWORD, enter, leave_alone

NEW = "another kettle on the stair"


def change(browser: TestClient, old: str = PASSWORD, new: str = NEW, again: str = NEW) -> object:
    data = {"old_password": old, "new_password": new, "new_password_again": again}
    return browser.post("/account/password", data=data)


def test_the_page_says_who_one_is_what_one_may_and_where_one_is_signed_in(
    browser: TestClient,
) -> None:
    enter(browser)
    page = browser.get("/account").text
    assert "Signs in as ines: nurse." in page
    assert "see patients of the unit" in page
    assert "sign notes" not in page
    assert "<b>this browser</b>" in page


def test_a_new_password_counts_gives_a_new_key_and_signs_out_other_browsers(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    other = clients(own_app, follow_redirects=False)
    enter(other)
    enter(browser)
    before = browser.cookies[COOKIE]
    answer = change(browser)
    assert answer.headers["location"] == "/account?done=password"  # type: ignore[attr-defined]
    assert browser.cookies[COOKIE] != before
    assert "Your password is changed." in browser.get("/account?done=password").text
    assert other.get("/").status_code == 401
    assert browser.get("/").status_code == 200
    with reading(own_app.state.engine) as session:
        assert is_right(NEW, password_hash_of(session, people["ines"].id))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("wrong", NEW, NEW), "Password now: This is not your password now."),
        ((PASSWORD, "short", "short"), "New password: It has 5 characters. Accepted: at least 15"),
        ((PASSWORD, NEW, NEW + "x"), "New password again: It differs from the one above."),
        ((PASSWORD, "inesines inesines", "inesines inesines"), "tried first"),
        (("", "", ""), "Accepted: at least 15"),
    ],
)
def test_what_is_not_accepted_is_said_beside_its_field_and_no_password_is_shown(
    browser: TestClient, typed: tuple[str, str, str], said: str
) -> None:
    enter(browser)
    answer = change(browser, *typed)
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert said in answer.text  # type: ignore[attr-defined]
    assert not any(word and f'value="{word}"' in answer.text for word in typed)  # type: ignore[attr-defined]
    browser.post("/sign-out")
    assert enter(browser).status_code == 303


def test_guessing_the_password_of_a_desk_left_open_waits_like_any_other(
    browser: TestClient,
) -> None:
    enter(browser)
    for _ in range(5):
        change(browser, old="guess")
    answer = change(browser)
    assert answer.status_code == 429  # type: ignore[attr-defined]
    assert "Try again in" in answer.text  # type: ignore[attr-defined]


def test_who_signs_in_by_the_house_has_no_password_here(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account]
) -> None:
    with transaction(own_app.state.engine) as session:
        key = begin_session(session, people["ines"].id, via="oidc", now=NOW)
    browser.cookies.set(COOKIE, key)
    assert "kept by the hospital’s sign-in" in browser.get("/account").text
    answer = change(browser)
    assert answer.status_code == 422  # type: ignore[attr-defined]


def test_signing_out_everywhere_ends_every_browser(
    own_app: FastAPI, browser: TestClient, clients: Clients
) -> None:
    other = clients(own_app, follow_redirects=False)
    enter(other)
    enter(browser)
    assert browser.post("/account/sign-out-everywhere").headers["location"] == "/sign-in"
    assert browser.get("/").status_code == 401
    assert other.get("/").status_code == 401


def test_locking_gives_a_new_key_so_that_the_browser_lets_go_of_the_pages_it_kept(
    browser: TestClient,
) -> None:
    enter(browser)
    before = browser.cookies[COOKIE]
    browser.post("/account/lock")
    assert browser.cookies[COOKIE] != before
    locked = browser.get("/")
    assert locked.status_code == 401 and "Locked" in locked.text
    browser.cookies.set(COOKIE, before)
    assert "Locked" not in browser.get("/").text


def test_locking_leads_back_to_a_page_of_ours_alone(browser: TestClient) -> None:
    enter(browser)
    answer = browser.post("/account/lock", data={"back": "https://elsewhere.example/x"})
    assert answer.headers["location"] == "/"


def test_an_open_page_is_told_nothing_while_the_session_stands_and_the_panel_when_not(
    browser: TestClient,
) -> None:
    enter(browser)
    for path in ("/account/watch", "/account/here"):
        answer = browser.get(path, headers={"HX-Request": "true"})
        assert (answer.status_code, answer.text) == (204, "")
    leave_alone(browser)
    answer = browser.get("/account/watch", headers={"HX-Request": "true"})
    assert 'id="again"' in answer.text
