"""What those hear who do not come in: nothing typed is lost, and nothing is shown to others."""

import html
import re

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.acts import Act, Role, Scope
from app.security.machines import Machine, Stopped
from app.storage.database import transaction
from app.storage.people.accounts import Account, end_account, set_password
from app.web.account.voice import forbidden_text, stop_machine
from tests.people import COOKIE
from tests.unit.web.account.conftest import (
    HASHED,
    NOW,
    PASSWORD,
    enter,
    grow_old,
    leave_alone,
    session_of,
)

STOCK = "/catalogue/dextrose-5/stock"
TYPED = {"state": "out", "note": "lorry <late> & lost"}
HTMX = {"HX-Request": "true"}


def kept_in(page: str) -> str:
    found = re.search(r'name="kept" value="([^"]+)"', page)
    assert found, "nothing is kept in the page"
    return html.unescape(found[1])


def test_an_idle_session_locks_at_the_same_address_and_unlocks_by_the_password_alone(
    browser: TestClient,
) -> None:
    enter(browser)
    number = session_of(browser)
    leave_alone(browser)
    locked = browser.get("/patients/bed-04?x=1")
    assert locked.status_code == 401
    assert "<h1>Locked</h1>" in locked.text
    assert "Ines Vale" in locked.text
    assert 'name="sign_in"' not in locked.text
    assert browser.get("/").status_code == 401
    wrong = browser.post("/patients/bed-04?x=1", data={"again": "1", "password": "wrong"})
    assert wrong.status_code == 401
    assert "The password is not right." in wrong.text
    right = browser.post("/patients/bed-04?x=1", data={"again": "1", "password": PASSWORD})
    assert (right.status_code, right.headers["location"]) == (303, "/patients/bed-04?x=1")
    assert session_of(browser) == number


def test_locked_by_hand_it_shows_nothing_more(browser: TestClient) -> None:
    enter(browser)
    answer = browser.post("/account/lock", data={"back": "/patients/bed-04"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/patients/bed-04")
    assert "<h1>Locked</h1>" in browser.get("/patients/bed-04").text


@pytest.mark.parametrize("over", [leave_alone, grow_old], ids=["locked", "ended"])
def test_a_form_sent_too_late_is_kept_shown_to_the_same_person_and_sent_by_one_button(
    browser: TestClient, over: object
) -> None:
    enter(browser)
    over(browser)  # type: ignore[operator]
    late = browser.post(STOCK, data=TYPED)
    assert late.status_code == 401
    assert "Nothing was sent yet." in late.text
    assert "lorry" not in late.text  # sealed, not written into the page
    data = {"again": "1", "sign_in": "ines", "password": PASSWORD, "kept": kept_in(late.text)}
    shown = browser.post("/sign-in", data=data)
    assert shown.status_code == 200
    assert f'action="{STOCK}"' in shown.text
    assert "Send it now" in shown.text
    assert "lorry &lt;late&gt; &amp; lost" in shown.text
    fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', shown.text))
    sent = {name: html.unescape(fields[name]) for name in TYPED}
    assert sent == TYPED
    answer = browser.post(STOCK, data=sent)
    assert answer.status_code == 303
    assert "Lorry &lt;late&gt; &amp; lost. Told by Ines Vale." in browser.get(STOCK[:-6]).text


def test_a_wrong_password_keeps_what_was_typed_for_the_next_try(browser: TestClient) -> None:
    enter(browser)
    grow_old(browser)
    kept = kept_in(browser.post(STOCK, data=TYPED).text)
    wrong = browser.post("/sign-in", data={"sign_in": "ines", "password": "x", "kept": kept})
    assert wrong.status_code == 401
    assert kept_in(wrong.text) == kept


def test_another_person_is_told_so_and_neither_sends_nor_sees_it(browser: TestClient) -> None:
    enter(browser)
    leave_alone(browser)
    kept = kept_in(browser.post(STOCK, data=TYPED).text)
    data = {"sign_in": "mirela", "password": PASSWORD, "kept": kept}
    answer = browser.post("/sign-in", data=data)
    assert "typed by Ines Vale: it was not sent" in answer.text
    assert "lorry" not in answer.text
    assert "Send it now" not in answer.text
    assert "nobody has told where it is" in browser.get(STOCK[:-6]).text


@pytest.mark.parametrize("kept", ["", "gAAAAA", "x" * 50])
def test_what_was_kept_and_cannot_be_read_is_said_to_be_lost(
    browser: TestClient, kept: str
) -> None:
    answer = enter(browser, kept=kept)
    if not kept:
        assert answer.status_code == 303
    else:
        assert "could not be kept" in answer.text
        assert "Send it now" not in answer.text


def test_more_than_a_page_carries_and_files_are_said_not_to_be_kept(browser: TestClient) -> None:
    enter(browser)
    grow_old(browser)
    long = browser.post(STOCK, data={**TYPED, "note": "x" * 70_000})
    assert "too long to be kept" in long.text
    assert 'name="kept"' not in long.text
    file = browser.post(STOCK, data=TYPED, files={"paper": ("p.csv", b"1,2")})
    assert "Choose the file again" in file.text
    assert kept_in(file.text)


def test_a_password_is_never_kept(browser: TestClient) -> None:
    enter(browser)
    grow_old(browser)
    data = {"old_password": PASSWORD, "new_password": "n" * 20}
    assert 'name="kept"' not in browser.post("/account/password", data=data).text


def test_what_is_no_form_at_all_is_answered_too(browser: TestClient) -> None:
    for body, kind in (
        (b"\xff\x00{", "application/x-www-form-urlencoded"),
        (b"--x", "multipart/form-data; boundary=y"),
        (b"{}", "application/json"),
    ):
        answer = browser.post(STOCK, content=body, headers={"content-type": kind})
        assert answer.status_code == 401, kind
    form = {"content-type": "application/x-www-form-urlencoded"}
    huge = browser.post(STOCK, content=iter([b"x" * 1_000_000] * 3), headers=form)
    assert huge.status_code == 413


def test_htmx_on_a_locked_session_gets_a_panel_and_the_page_stays(browser: TestClient) -> None:
    enter(browser)
    leave_alone(browser)
    answer = browser.post("/orders/review", data={"fluid": "dextrose-5"}, headers=HTMX)
    assert answer.status_code == 401
    assert answer.headers["hx-retarget"] == "#again"
    assert answer.headers["hx-reswap"] == "outerHTML"
    assert answer.text.lstrip().startswith('<div id="again"')
    assert "<html" not in answer.text
    assert "What is typed on this page stays." in answer.text
    assert 'name="kept"' not in answer.text
    in_again = browser.post("/sign-in", data={"password": PASSWORD}, headers=HTMX)
    assert in_again.status_code == 200
    assert 'hx-get="/account/watch"' in in_again.text
    assert browser.get("/").status_code == 200


def test_in_the_panel_another_person_is_told_whose_page_it_is(browser: TestClient) -> None:
    enter(browser)
    grow_old(browser)
    data = {"sign_in": "mirela", "password": PASSWORD}
    answer = browser.post("/sign-in", data=data, headers=HTMX)
    assert "This page is Ines Vale’s" in answer.text
    assert "Go on as Mirela Stancu" in answer.text


def test_what_a_page_asks_by_itself_brings_no_panel_over_what_is_being_typed(
    browser: TestClient, own_app: FastAPI
) -> None:
    enter(browser)
    own_app.state.settings = own_app.state.settings.__class__(demo=True)
    leave_alone(browser)
    news = browser.get("/stock/news?seen=0&told=0", headers=HTMX)
    assert (news.status_code, news.text) == (401, "")
    assert news.headers["hx-reswap"] == "none"
    watch = browser.get("/account/watch", headers=HTMX)
    assert watch.status_code == 401
    assert 'id="again"' in watch.text


def test_the_lock_page_of_a_second_window_leads_on_when_the_first_was_unlocked(
    browser: TestClient,
) -> None:
    enter(browser)
    answer = browser.post("/patients/bed-04", data={"again": "1", "password": PASSWORD})
    assert (answer.status_code, answer.headers["location"]) == (303, "/patients/bed-04")
    assert browser.post("/patients/bed-04", data={"x": "1"}).status_code == 405


def test_a_wrong_role_is_told_who_may_which_role_one_has_and_whom_to_ask(
    browser: TestClient,
) -> None:
    enter(browser, "adaeze")
    answer = browser.get("/")
    assert answer.status_code == 403
    assert "To see patients of the unit is for the nurse, prescriber or pharmacist." in answer.text
    assert "You are signed in as educator." in answer.text
    assert "Ask Wanda Prill, who keeps the accounts." in answer.text
    # Back is not to the page that was just refused.
    assert '<a class="button" href="/compare">' in answer.text
    part = browser.get("/", headers=HTMX)
    assert part.headers["hx-retarget"] == "#main"


def test_without_a_role_or_an_administrator_it_is_still_said_plainly() -> None:
    text = forbidden_text(frozenset(), (Act.PURGE, Act.TELL), "")
    assert "You have no role yet." in text
    assert "for the administrator." in text
    assert "Ask whoever keeps the accounts." in text
    assert forbidden_text(frozenset({Role.NURSE}), (Act.PURGE,), "A or B").endswith(
        "Ask A or B, who keeps the accounts."
    )


def test_an_account_that_is_ended_is_out_at_the_next_page(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account]
) -> None:
    enter(browser)
    with transaction(own_app.state.engine) as session:
        end_account(session, people["ines"].id, NOW)
    assert browser.get("/").status_code == 401
    assert enter(browser).status_code == 401


def test_a_first_password_leads_to_choosing_another(
    own_app: FastAPI, browser: TestClient, people: dict[str, Account]
) -> None:
    with transaction(own_app.state.engine) as session:
        set_password(session, people["ines"].id, HASHED, must_change=True)
    enter(browser)
    answer = browser.get("/")
    assert (answer.status_code, answer.headers["location"]) == (303, "/account#password")
    assert "Choose a password of your own first." in browser.get("/account").text
    part = browser.get("/", headers=HTMX)
    assert (part.status_code, part.headers["hx-redirect"]) == (403, "/account#password")
    assert browser.post("/sign-out").status_code == 303


@pytest.mark.parametrize(
    ("stopped", "status", "said"),
    [
        (Stopped.UNKNOWN, 401, "Send the header"),
        (Stopped.EXPIRED, 401, "This token has expired."),
        (Stopped.ENDED, 401, "This token was ended."),
        (Stopped.OTHER_PART, 403, "the part “fhir”; this one opens: review, rules"),
    ],
)
def test_a_program_is_told_why_as_data(stopped: Stopped, status: int, said: str) -> None:
    machine = Machine("record", frozenset({Scope.RULES, Scope.REVIEW}), Scope.FHIR, stopped)
    answer = stop_machine(machine)
    assert answer.status_code == status
    assert said in bytes(answer.body).decode()
    assert ("www-authenticate" in answer.headers) == (status == 401)


def test_a_forged_cookie_opens_nothing(browser: TestClient) -> None:
    enter(browser)
    key = browser.cookies[COOKIE]
    for forged in (key[:-1], key + "A", "' OR 1=1 --", "\x7f", "a" * 4000):
        browser.cookies.clear()
        browser.cookies.set(COOKIE, forged)
        assert browser.get("/").status_code == 401
