"""`ringside migrate`."""

import argparse

from app.cli.parts import Commands
from app.settings import read_settings
from app.storage.database import connect, migrate


def add(commands: Commands) -> None:
    """The command's options."""
    migration = commands.add_parser("migrate", help="bring the database to this release's tables")
    migration.set_defaults(command=_migrate)


def _migrate(_asked: argparse.Namespace) -> int:
    engine = connect(read_settings().database_url)
    before, after = migrate(engine)
    engine.dispose()
    if before is None:
        print(f"Database made, at {after}.")
    else:
        print(f"Database at {after}." if before == after else f"Database: {before} to {after}.")
    return 0
