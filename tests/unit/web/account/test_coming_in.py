"""Where a try to sign in leads."""

from functools import partial
from threading import Event

import pytest
from anyio import create_task_group, to_thread
from fastapi import FastAPI
from httpx import ASGITransport, AsyncClient, Response

from app.security import sign_in
from app.security.acts import Role
from app.security.kept import Kept
from app.web.account.coming_in import kept_page, wait_text
from tests.aside import run
from tests.people import person_in

INES = person_in(Role.NURSE)
TYPED = Kept(INES.account_id, INES.name, "/x", (("note", "late"),))


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(1, "1 second;"), (59, "59 seconds;"), (60, "1 minute;"), (61, "2 minutes;"), (300, "5 min")],
)
def test_a_wait_is_told_in_words_and_never_too_short(seconds: int, words: str) -> None:
    assert f"Try again in {words}" in wait_text(seconds)


def test_what_was_typed_is_shown_to_whoever_typed_it() -> None:
    page = kept_page(TYPED, INES)
    assert (page.state, page.address, page.rows) == ("same", "/x", (("note", "late"),))


def test_what_another_typed_is_named_and_not_shown() -> None:
    other = Kept("a-other", "Mirela", "/x", (("note", "late"),))
    page = kept_page(other, INES)
    assert (page.state, page.by_name, page.rows, page.address) == ("other", "Mirela", (), "")


def test_what_was_typed_by_nobody_known_is_shown_before_it_is_sent() -> None:
    assert kept_page(Kept("", "", "/x", (("note", "late"),)), INES).state == "same"


def test_what_cannot_be_read_is_gone() -> None:
    assert kept_page(None, INES).state == "gone"


def test_many_passwords_at_once_are_looked_at_one_by_one_and_hold_up_no_page(
    own_app: FastAPI, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go, at_once = Event(), Event(), []

    def slow(_password: str, _kept: str | None) -> bool:
        at_once.append(1)
        begun.set()
        go.wait(5)
        return False

    async def asked() -> Response:
        there = ASGITransport(app=own_app)
        async with (
            AsyncClient(transport=there, base_url="http://testserver") as browser,
            create_task_group() as tries,
        ):
            for number in range(4):
                form = {"sign_in": f"somebody-{number}", "password": "guessed"}
                tries.start_soon(partial(browser.post, "/sign-in", data=form))
            await to_thread.run_sync(begun.wait)
            page = await browser.get("/who-may")
            begun_meanwhile = len(at_once)
            go.set()
        assert begun_meanwhile == 1
        return page

    monkeypatch.setattr(sign_in, "is_right", slow)
    assert run(asked).status_code == 200
    assert len(at_once) == 4
