"""`ringside purge`."""

import argparse
import getpass
from datetime import UTC, datetime, timedelta
from typing import Final

from app.cli.parts import UNREADABLE, Commands, complain, migrated_database
from app.settings import LEAST_KEEP_DAYS, LONGEST_KEEP_DAYS, read_settings
from app.storage.audit.acts import PURGED
from app.storage.audit.trail import record
from app.storage.database import transaction
from app.storage.retention.purge import Purged, leave_nothing, purge

ACCEPTED: Final = f"accepted: {LEAST_KEEP_DAYS} to {LONGEST_KEEP_DAYS} days"
NOT_SAID: Final = (
    f"How long is kept is not said: set RINGSIDE_KEEP_DAYS, or give --days; {ACCEPTED}"
)


class Undone(Exception):
    """Nothing is to be kept of what was done: it was only asked what would be."""


def add(commands: Commands) -> None:
    """The command's options."""
    command = commands.add_parser(
        "purge",
        help="take away what is kept no longer",
        description="Takes away patients of whom nothing was heard for so many days, what was "
        "told of lumens of patients who are gone, past requests, old sessions and wrong tries to "
        "sign in. Content, notes, stock, plans, marks and the trail of acts stay. "
        "Exit status: 0 done, 2 not.",
    )
    command.add_argument("--days", type=int, help="default: RINGSIDE_KEEP_DAYS")
    command.add_argument("--only-say", action="store_true", help="say what would go, and keep it")
    command.set_defaults(command=_purge)


def _purge(asked: argparse.Namespace) -> int:
    settings = read_settings()
    days = settings.keep_days if asked.days is None else asked.days
    if days is None or not LEAST_KEEP_DAYS <= days <= LONGEST_KEEP_DAYS:
        complain([NOT_SAID if days is None else f"{days} days are not accepted; {ACCEPTED}"])
        return UNREADABLE
    now = datetime.now(UTC)
    with migrated_database(settings) as engine:
        try:
            with transaction(engine) as session:
                gone = purge(session, now - timedelta(days=days))
                if asked.only_say:
                    raise Undone
                if gone.anything:
                    who = f"{getpass.getuser()}, at the command line"
                    record(
                        session, at=now, who=who, account_id="", act=PURGED, subject="patients",
                        after={"days kept": days, **_counted(gone)},
                    )  # fmt: skip
        except Undone:
            pass
        else:
            leave_nothing(engine)
    _tell(gone, would=asked.only_say)
    return 0


def _counted(gone: Purged) -> dict[str, int]:
    return {
        "patients": gone.patients,
        "lumens told of": gone.lumens,
        "past requests": gone.past,
        "sessions": gone.sessions,
        "wrong tries": gone.attempts,
        "lists of what was loaded": gone.loads,
    }


def _tell(gone: Purged, *, would: bool) -> None:
    told = ", ".join(f"{number:,} {name}" for name, number in _counted(gone).items())
    print(f"{'Would be taken away' if would else 'Taken away'}: {told}.")
    if gone.undated:
        print(f"Kept for want of any date: {gone.undated:,} patients.")
