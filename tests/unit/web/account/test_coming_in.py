"""Where a try to sign in leads."""

import pytest

from app.security.acts import Role
from app.security.kept import Kept
from app.web.account.coming_in import kept_page, wait_text
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
