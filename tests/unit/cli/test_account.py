"""`ringside account`, as somebody types it who cannot reach a page."""

import io
import sys
from collections.abc import Callable

import pytest

from app.cli import main
from app.security.passwords import is_right
from app.settings import read_settings
from app.storage.audit.reading import read_head
from app.storage.database import connect, reading, transaction
from app.storage.people.accounts import Account, find_account, password_hash_of
from app.storage.people.attempts import by_name, count_try, failures_of
from app.storage.people.sessions import begin_session, sessions_of
from tests.conftest import LOADED

Type = Callable[[str], None]
GOOD = "kettle on the blue stair"


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Type:
    """typed("line"): what standard input holds."""

    def type_(line: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.StringIO(line))

    type_(GOOD + "\n")
    main(["migrate"])
    return type_


def account(name: str = "wanda") -> Account:
    with reading(connect(read_settings().database_url)) as session:
        found = find_account(session, name)
    assert found is not None
    return found


ADD = ["account", "add", "Wanda", "--name", "Wanda Prill", "--role", "administrator"]


def test_the_first_account_is_made_and_its_making_stands_in_the_trail(
    typed: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*ADD, "--role", "pharmacist"]) == 0
    shown = capsys.readouterr()
    assert "wanda: added as administrator, pharmacist" in shown.out
    assert GOOD not in shown.out + shown.err
    made = account()
    assert (made.name, made.roles) == ("Wanda Prill", {"administrator", "pharmacist"})
    with reading(connect(read_settings().database_url)) as session:
        assert is_right(GOOD, password_hash_of(session, made.id))
        head = read_head(session)
        assert head is not None
        assert head.count == 1


def test_a_password_is_never_an_argument(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([*ADD, "--password", GOOD])
    assert "unrecognized" in capsys.readouterr().err


@pytest.mark.parametrize("line", ["short\n", "\n", "", "password123456789\n"])
def test_a_password_that_is_refused_makes_no_account(
    typed: Type, line: str, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(line)
    assert main(ADD) == 1
    assert "Accepted:" in capsys.readouterr().err
    with reading(connect(read_settings().database_url)) as session:
        assert find_account(session, "wanda") is None


def test_a_name_is_given_once(typed: Type, capsys: pytest.CaptureFixture[str]) -> None:
    main(ADD)
    typed(GOOD + "\n")
    assert main(["account", "add", "WANDA", "--role", "nurse"]) == 1
    assert "is the name of another account already." in capsys.readouterr().err


def test_a_new_password_signs_out_everywhere_and_ends_the_wait(typed: Type) -> None:
    main(ADD)
    made = account()
    engine = connect(read_settings().database_url)
    with transaction(engine) as session:
        begin_session(session, made.id, via="local", now=LOADED)
        count_try(session, [by_name("wanda")], LOADED)
    typed("another kettle on the stair\n")
    assert main(["account", "password", "wanda"]) == 0
    with reading(engine) as session:
        assert is_right("another kettle on the stair", password_hash_of(session, made.id))
        assert sessions_of(session, made.id)[0].ended_why == "a new password was set"
        assert failures_of(session, by_name("wanda")) == 0


def test_accounts_are_listed_unlocked_and_ended_by_name(
    typed: Type, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["account", "list"]) == 0
    assert "There is no account yet." in capsys.readouterr().out
    main(ADD)
    assert main(["account", "unlock", "wanda"]) == 0
    assert main(["account", "end", "wanda"]) == 0
    capsys.readouterr()
    main(["account", "list"])
    assert "wanda\tWanda Prill\tadministrator\tended 20" in capsys.readouterr().out


@pytest.mark.parametrize("act", ["end", "unlock", "password"])
def test_an_account_that_is_not_there_is_told_by_name(
    typed: Type, act: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["account", act, "nobody"]) == 1
    assert "no account that signs in as “nobody”" in capsys.readouterr().err


def test_before_migrating_it_says_what_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["account", "list"]) == 2
    assert "ringside migrate" in capsys.readouterr().err
