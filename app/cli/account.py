"""`ringside account`: accounts from the server's own terminal, when no page can be reached.

Whoever may run this may read the database anyway; each use stands in the trail of acts.
"""

import argparse
import getpass
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Final

from sqlalchemy.orm import Session

from app.cli.parts import Commands, complain, migrated_database
from app.security.acts import Role
from app.security.passwords import PasswordRefused, accept, hash_password
from app.settings import read_settings
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.people import accounts
from app.storage.people.accounts import LOCAL, Account, NameTaken, NewAccount
from app.storage.people.attempts import by_name, forget
from app.storage.people.sessions import end_sessions_of

TERMINAL: Final = "command line"
REFUSED: Final = 1
LONGEST_LINE: Final = 1024

Do = Callable[[Session, Account, datetime], str]


class NotDone(Exception):
    """What was asked for cannot be done, in words."""


def add(commands: Commands) -> None:
    """The command's options."""
    account = commands.add_parser(
        "account",
        help="add, list, end and unlock accounts, and set a password",
        description="A password is asked for on the terminal, or read as one line from standard "
        "input; it is never an argument. Exit status: 0 done, 1 refused, 2 not readable.",
    )
    acts = account.add_subparsers(metavar="ACT", required=True)
    new = acts.add_parser("add", help="a new account that signs in by password")
    new.add_argument("sign_in", metavar="NAME", help="the name to sign in by")
    new.add_argument("--name", metavar="TEXT", help="the name others read (default: NAME)")
    new.add_argument(
        "--role", action="append", choices=[str(role) for role in Role], required=True,
        help="may be given more than once",
    )  # fmt: skip
    new.set_defaults(command=_add)
    acts.add_parser("list", help="every account").set_defaults(command=_list)
    for act, does, do in (
        ("end", "nobody signs in by it any more", _end),
        ("unlock", "end the wait that wrong tries brought", _unlock),
    ):
        _of_one(acts.add_parser(act, help=does), do)
    password = acts.add_parser("password", help="a new password; signed out everywhere")
    password.add_argument("sign_in", metavar="NAME")
    password.set_defaults(command=_password)


def _of_one(parser: argparse.ArgumentParser, do: Do) -> None:
    parser.add_argument("sign_in", metavar="NAME")
    parser.set_defaults(command=lambda asked: _done(asked.sign_in, do))


def _done(sign_in: str, do: Do) -> int:
    with migrated_database(read_settings()) as engine:
        try:
            with transaction(engine) as session:
                account = _found(session, sign_in)
                act = do(session, account, datetime.now(UTC))
                _record(session, account, act)
        except NotDone as why:
            return _refused(why)
    print(f"{account.sign_in}: {act}")
    return 0


def _found(session: Session, sign_in: str) -> Account:
    account = accounts.find_account(session, sign_in)
    if account is None:
        raise NotDone(f"There is no account that signs in as “{sign_in}”.")
    return account


def _add(asked: argparse.Namespace) -> int:
    with migrated_database(read_settings()) as engine:
        try:
            password = _new_password(asked.sign_in, asked.name or "")
            with transaction(engine) as session:
                new = NewAccount(
                    asked.sign_in,
                    asked.name or asked.sign_in,
                    frozenset(asked.role),
                    password_hash=hash_password(password),
                )
                account = accounts.add_account(session, new, datetime.now(UTC))
                _record(session, account, "account added")
        except (NotDone, NameTaken, PasswordRefused) as why:
            return _refused(why)
    print(f"{account.sign_in}: added as {', '.join(sorted(account.roles))}")
    return 0


def _password(asked: argparse.Namespace) -> int:
    with migrated_database(read_settings()) as engine:
        try:
            with reading(engine) as session:
                account = _found(session, asked.sign_in)
            if account.how != LOCAL:
                raise NotDone("The hospital's sign-in keeps this password.")
            hashed = hash_password(_new_password(account.sign_in, account.name))
            with transaction(engine) as session:
                _set_password(session, account, hashed)
        except (NotDone, PasswordRefused) as why:
            return _refused(why)
    print(f"{account.sign_in}: password changed; signed out everywhere")
    return 0


def _set_password(session: Session, account: Account, hashed: str) -> None:
    accounts.set_password(session, account.id, hashed)
    end_sessions_of(session, account.id, datetime.now(UTC), "a new password was set")
    forget(session, by_name(account.sign_in))
    _record(session, account, "password set")


def _end(session: Session, account: Account, now: datetime) -> str:
    accounts.end_account(session, account.id, now)
    end_sessions_of(session, account.id, now, "the account was ended")
    return "account ended"


def _unlock(session: Session, account: Account, _now: datetime) -> str:
    forget(session, by_name(account.sign_in))
    return "wait ended"


def _list(_asked: argparse.Namespace) -> int:
    with migrated_database(read_settings()) as engine, reading(engine) as session:
        found = accounts.all_accounts(session)
    for one in found:
        state = "active" if one.active else f"ended {one.ended_at:%Y-%m-%d %H:%M} UTC"
        demo = ", demo mode only" if one.demo else ""
        print(f"{one.sign_in}\t{one.name}\t{', '.join(sorted(one.roles))}\t{state}{demo}")
    if not found:
        print("There is no account yet.")
    return 0


def _new_password(*names: str) -> str:
    """Asked for twice on a terminal; one line of standard input otherwise."""
    if not sys.stdin.isatty():
        line = sys.stdin.readline(LONGEST_LINE)
        return accept(line.rstrip("\r\n"), *names)
    password = accept(getpass.getpass("New password: "), *names)
    if getpass.getpass("Again: ") != password:
        raise NotDone("The two differ.")
    return password


def _record(session: Session, account: Account, act: str) -> None:
    record(
        session,
        at=datetime.now(UTC),
        who=f"{getpass.getuser()}, {TERMINAL}",
        account_id=TERMINAL,
        act=act,
        subject=f"account:{account.id}",
        after={"sign_in": account.sign_in, "roles": sorted(account.roles)},
    )


def _refused(why: Exception) -> int:
    text = str(why)
    complain([text if text.endswith(".") else f"{text}."])
    return REFUSED
