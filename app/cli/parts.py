"""What several commands share."""

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from sqlalchemy import Engine

from app.intake.errors import InputError, InputErrors
from app.settings import Settings
from app.storage.database import connect, current, head

FAULTY: Final = 1
UNREADABLE: Final = 2

Command = Callable[[argparse.Namespace], int]
if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]
else:  # the class is generic for type checkers alone
    Commands = argparse._SubParsersAction


class NotMigrated(Exception):
    """The database is not at this release."""

    def __str__(self) -> str:
        return "The database is not at this release's tables: run `ringside migrate` first."


@contextmanager
def migrated_database(settings: Settings) -> Iterator[Engine]:
    """The database, if it is at this release; raises NotMigrated."""
    engine = connect(settings.database_url, secret=settings.trail_secret)
    try:
        if current(engine) != head():
            raise NotMigrated
        yield engine
    finally:
        engine.dispose()


def reads_a_file(reading: argparse.ArgumentParser, holds: str, command: Command) -> None:
    """A command that reads one file and answers of it."""
    reading.add_argument("file", metavar="FILE", help=holds)
    reading.add_argument("--json", action="store_true", help="print the JSON reply")
    reading.set_defaults(command=command)


def unreadable(problem: InputError | InputErrors) -> int:
    """Tell what cannot be read; returns the exit status."""
    complain(problem.errors if isinstance(problem, InputErrors) else (problem,))
    return UNREADABLE


def complain(problems: Iterable[object]) -> None:
    """One line each on the error stream."""
    for problem in problems:
        print(problem, file=sys.stderr)
