from datetime import UTC, datetime, timedelta

import pytest

from app.storage.people.sessions import Sitting
from app.web.account.sittings import ago, moment, sitting_views

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)


def sitting(**more: object) -> Sitting:
    given = {"locked_at": None, "ended_at": None, "ended_why": "", **more}
    return Sitting(id=3, account_id="a", via="local", begun_at=NOW, seen_at=NOW, **given)  # type: ignore[arg-type]


def test_a_session_is_open_locked_or_ended_with_its_reason() -> None:
    ended = sitting(locked_at=NOW, ended_at=NOW, ended_why="signed out")
    views = sitting_views((sitting(), sitting(locked_at=NOW), ended), NOW, here=3)
    assert [one.state for one in views] == [
        "open", "locked by hand", "ended 2026-11-25 08:00 UTC: signed out",
    ]  # fmt: skip
    assert [one.open for one in views] == [True, True, False]
    assert views[0].here


@pytest.mark.parametrize(
    ("passed", "words"),
    [
        (timedelta(seconds=-5), "just now"), (timedelta(seconds=59), "just now"),
        (timedelta(minutes=1), "1 minute ago"), (timedelta(minutes=59), "59 minutes ago"),
        (timedelta(hours=1), "1 hour ago"), (timedelta(hours=47), "1 day ago"),
        (timedelta(days=9), "9 days ago"),
    ],
)  # fmt: skip
def test_how_long_ago_is_said_roughly(passed: timedelta, words: str) -> None:
    assert ago(NOW - passed, NOW) == words


def test_what_never_was_is_never() -> None:
    assert ago(None, NOW) == moment(None) == "never"
