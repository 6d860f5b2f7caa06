"""Every command, and how they fail."""

import argparse
import sys
from collections.abc import Sequence

from app.cli import (
    account,
    check_data,
    load,
    migrate,
    plan_lines,
    predict,
    recompute,
    replay,
    review,
    serve,
)
from app.cli.keeping import audit, purge
from app.cli.parts import UNREADABLE, Command, NotMigrated
from app.settings import SettingError

COMMANDS = (
    serve,
    migrate,
    load,
    review,
    predict,
    plan_lines,
    recompute,
    check_data,
    replay,
    audit,
    purge,
    account,
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    asked = command_line().parse_args(arguments)
    command: Command = asked.command
    try:
        return command(asked)
    except (SettingError, NotMigrated) as wrong:
        print(wrong, file=sys.stderr)
        return UNREADABLE


def command_line() -> argparse.ArgumentParser:
    """The commands and their options."""
    parser = argparse.ArgumentParser(
        prog="ringside",
        description="Compares intravenous fluids, predicts what they do, reviews a shift's orders.",
    )
    commands = parser.add_subparsers(metavar="COMMAND", required=True)
    for each in COMMANDS:
        each.add(commands)
    return parser
