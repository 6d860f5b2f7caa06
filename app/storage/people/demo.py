"""The demo unit's people: invented, like its patients. Only `ringside load` makes them."""

from datetime import datetime
from typing import Final

from sqlalchemy.orm import Session

from app.storage.people.accounts import (
    Account,
    NameTaken,
    NewAccount,
    add_account,
    all_accounts,
)

# Known to everyone: it opens invented patients, in demo mode alone.
DEMO_PASSWORD: Final = "seven bags hung"
DEMO_PEOPLE: Final = (
    ("nurse", "Ines Vale", ("nurse",)),
    ("prescriber", "Tomas Brandt", ("prescriber",)),
    ("educator", "Adaeze Oyelaran", ("educator",)),
    ("pharmacist", "Mirela Stancu", ("pharmacist",)),
    ("pharmacist2", "Joakim Lund", ("pharmacist",)),
    ("administrator", "Wanda Prill", ("administrator",)),
)


def load_demo_people(session: Session, password_hash: str, now: datetime) -> tuple[str, ...]:
    """Make those that are missing, and leave the others as they are; returns what it made.

    A name that somebody else signs in by already is left to them.
    """
    made = []
    for sign_in, name, roles in DEMO_PEOPLE:
        new = NewAccount(sign_in, name, frozenset(roles), password_hash=password_hash, demo=True)
        try:
            add_account(session, new, now)
        except NameTaken:
            continue
        made.append(sign_in)
    return tuple(made)


def demo_people(session: Session) -> tuple[Account, ...]:
    """The demo accounts that may sign in."""
    return tuple(one for one in all_accounts(session) if one.demo and one.active)
