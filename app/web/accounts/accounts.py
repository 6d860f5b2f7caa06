"""/accounts: what the administrator keeps of others. Every change is in the trail of acts."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from sqlalchemy.orm import Session

from app.security.acts import Role
from app.security.passwords import hash_password
from app.security.person import Person
from app.storage.database import reading, transaction
from app.storage.people import accounts as kept
from app.storage.people.accounts import LOCAL, Account, NameTaken, NewAccount
from app.storage.people.attempts import by_name, failures_of, forget
from app.storage.people.sessions import end_sessions_of, sessions_of
from app.web.account.keeping import noted
from app.web.account.menu import listed
from app.web.account.sittings import SittingView, ago, moment, sitting_views
from app.web.render import SEE_OTHER, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
LONGEST_NAME: Final = 80
FIRST_PASSWORD_WORDS: Final = 4
SESSIONS_ENDED: Final = "ended by an administrator"


@dataclass(frozen=True, slots=True)
class AccountLine:
    """One account in the list."""

    id: str
    name: str
    sign_in: str
    roles: str
    how: str
    state: str
    seen: str
    active: bool


@dataclass(frozen=True, slots=True)
class AccountsPage:
    """All accounts, and the form for a new one. fault: a field that was not accepted, and why."""

    lines: tuple[AccountLine, ...]
    roles: tuple[str, ...]
    typed: tuple[str, str, tuple[str, ...]] = ("", "", ())
    fault: tuple[str, str] = ("", "")
    made: tuple[str, str, str] = ("", "", "")
    longest: int = LONGEST_NAME


@dataclass(frozen=True, slots=True)
class OneAccountPage:
    """One account. password: a new first password, shown this once."""

    line: AccountLine
    roles: tuple[tuple[str, bool], ...]
    created: str
    failures: int
    local: bool
    sittings: tuple[SittingView, ...]
    own: bool
    password: str = ""
    fault: str = ""


@router.get("/accounts")
def list_accounts(request: Request) -> HTMLResponse:
    """Every account."""
    return _list(request)


def _list(request: Request, status: int = 200, **more: object) -> HTMLResponse:
    now = datetime.now(UTC)
    with reading(request.app.state.engine) as session:
        lines = tuple(_line(session, one, now) for one in kept.all_accounts(session))
    view = AccountsPage(lines, tuple(Role), **more)  # type: ignore[arg-type]
    return render(request, "account/accounts.html", view, status=status)


def _line(session: Session, account: Account, now: datetime) -> AccountLine:
    sittings = sessions_of(session, account.id)
    seen = max((one.seen_at for one in sittings), default=None)
    return AccountLine(
        id=account.id,
        name=account.name,
        sign_in=account.sign_in,
        roles=listed(sorted(account.roles)) or "no role",
        how="password" if account.how == LOCAL else "the hospital’s sign-in",
        state="active" if account.active else f"ended {moment(account.ended_at)}",
        seen=ago(seen, now),
        active=account.active,
    )


@router.post("/accounts")
def add_account(
    request: Request,
    sign_in: Annotated[str, Form()] = "",
    name: Annotated[str, Form()] = "",
    role: Annotated[list[str] | None, Form()] = None,
) -> Response:
    """A new account with a first password, which is shown this once."""
    roles = tuple(role or ())
    typed = (sign_in, name, roles)
    fault = _fault(sign_in, name, roles)
    if fault[0]:
        return _list(request, UNREADABLE, typed=typed, fault=fault)
    password = first_password()
    new = NewAccount(
        sign_in,
        " ".join(name.split()),
        frozenset(roles),
        password_hash=hash_password(password),
        must_change=True,
    )
    try:
        with transaction(request.app.state.engine) as session:
            account = kept.add_account(session, new, datetime.now(UTC))
            after = {"sign_in": account.sign_in, "name": account.name, "roles": sorted(roles)}
            noted(request, session, "account added", f"account:{account.id}", after=after)
    except NameTaken as taken:
        return _list(request, UNREADABLE, typed=typed, fault=("sign_in", f"{taken}."))
    return _list(request, made=(account.name, account.sign_in, password))


def _fault(sign_in: str, name: str, roles: Sequence[str]) -> tuple[str, str]:
    """The first field that is not accepted, and what is."""
    if not kept.as_signed(sign_in) or len(sign_in) > LONGEST_NAME:
        return "sign_in", f"Accepted: 1 to {LONGEST_NAME} characters."
    if not name.strip() or len(name) > LONGEST_NAME:
        return "name", f"Accepted: 1 to {LONGEST_NAME} characters, as others shall read it."
    return ("", "") if _are_roles(roles) else ("role", "Accepted: at least one of these roles.")


def _are_roles(roles: Sequence[str]) -> bool:
    return bool(roles) and set(roles) <= set(Role)


def first_password() -> str:
    """A password to be told once and changed at the first signing in."""
    return "-".join(secrets.token_hex(2) for _ in range(FIRST_PASSWORD_WORDS))


@router.get("/accounts/{account_id}")
def show_one(request: Request, account_id: str) -> HTMLResponse:
    """One account with its sessions."""
    return _one(request, account_id)


def _one(request: Request, account_id: str, *, password: str = "", fault: str = "") -> HTMLResponse:
    now = datetime.now(UTC)
    with reading(request.app.state.engine) as session:
        account = _found(session, account_id)
        view = OneAccountPage(
            line=_line(session, account, now),
            roles=tuple((role.value, role in account.roles) for role in Role),
            created=moment(account.created_at),
            failures=failures_of(session, by_name(account.sign_in)),
            local=account.how == LOCAL,
            sittings=sitting_views(sessions_of(session, account_id), now),
            own=account.id == signed_in(request).account_id,
            password=password,
            fault=fault,
        )
    return render(request, "account/one_account.html", view, status=UNREADABLE if fault else 200)


def _found(session: Session, account_id: str) -> Account:
    account = kept.read_account(session, account_id)
    if account is None:
        raise HTTPException(NOT_FOUND, "There is no such account.")
    return account


def _back(account_id: str) -> Response:
    return RedirectResponse(f"/accounts/{account_id}", SEE_OTHER)


@router.post("/accounts/{account_id}/roles")
def change_roles(
    request: Request, account_id: str, role: Annotated[list[str] | None, Form()] = None
) -> Response:
    """Other roles: they count at the person's next request."""
    roles = sorted(set(role or ()))
    if not _are_roles(roles):
        return _one(request, account_id, fault="Choose at least one role, or end the account.")
    if fault := _own_fault(signed_in(request), account_id, roles):
        return _one(request, account_id, fault=f"{OWN} {fault}")
    with transaction(request.app.state.engine) as session:
        before = sorted(_found(session, account_id).roles)
        kept.set_roles(session, account_id, roles)
        noted(
            request,
            session,
            "roles changed",
            f"account:{account_id}",
            before={"roles": before},
            after={"roles": roles},
        )
    return _back(account_id)


OWN: Final = "Another administrator does this: you cannot, of your own account,"


def _own_fault(person: Person, account_id: str, roles: Sequence[str]) -> str:
    """What nobody does to their own account: shut the house, or open more of it to themselves."""
    if account_id != person.account_id:
        return ""
    if Role.ADMINISTRATOR not in roles:
        return "give up the role administrator."
    return "add a role." if set(roles) - person.roles else ""


@router.post("/accounts/{account_id}/password")
def new_password(request: Request, account_id: str) -> HTMLResponse:
    """A new first password for somebody who forgot theirs; they are signed out everywhere."""
    password, now = first_password(), datetime.now(UTC)
    with transaction(request.app.state.engine) as session:
        account = _found(session, account_id)
        if account.how != LOCAL:
            raise HTTPException(UNREADABLE, "The hospital’s sign-in keeps this password, not we.")
        kept.set_password(session, account_id, hash_password(password), must_change=True)
        end_sessions_of(session, account_id, now, "a new password was made")
        forget(session, by_name(account.sign_in))
        noted(request, session, "new first password", f"account:{account_id}")
    return _one(request, account_id, password=password)


@router.post("/accounts/{account_id}/unlock")
def end_wait(request: Request, account_id: str) -> Response:
    """End the wait that wrong tries brought on a name."""
    with transaction(request.app.state.engine) as session:
        account = _found(session, account_id)
        forget(session, by_name(account.sign_in))
        noted(request, session, "wait ended", f"account:{account_id}")
    return _back(account_id)


@router.post("/accounts/{account_id}/end")
def end_account(request: Request, account_id: str) -> Response:
    """End an account: whoever is signed in by it is out at the next request."""
    if account_id == signed_in(request).account_id:
        return _one(request, account_id, fault=f"{OWN} end it.")
    now = datetime.now(UTC)
    with transaction(request.app.state.engine) as session:
        _found(session, account_id)
        kept.end_account(session, account_id, now)
        end_sessions_of(session, account_id, now, "the account was ended")
        noted(request, session, "account ended", f"account:{account_id}")
    return _back(account_id)


@router.post("/accounts/{account_id}/open")
def open_account(request: Request, account_id: str) -> Response:
    """Let an account that was ended sign in again."""
    with transaction(request.app.state.engine) as session:
        _found(session, account_id)
        kept.open_again(session, account_id)
        noted(request, session, "account opened again", f"account:{account_id}")
    return _back(account_id)


@router.post("/accounts/{account_id}/sessions/end")
def end_sessions(request: Request, account_id: str) -> Response:
    """Sign somebody out of every browser."""
    with transaction(request.app.state.engine) as session:
        _found(session, account_id)
        end_sessions_of(session, account_id, datetime.now(UTC), SESSIONS_ENDED)
        noted(request, session, "sessions ended", f"account:{account_id}")
    return _back(account_id)
