"""`ringside load`."""

import argparse
import sys
from collections import Counter
from datetime import UTC, datetime

from app.cli.parts import FAULTY, Commands, migrated_database
from app.settings import read_settings
from app.storage.changes.release import OUTCOMES
from app.storage.database import transaction
from app.storage.seed import seed


def add(commands: Commands) -> None:
    """The command's options."""
    load = commands.add_parser("load", help="load seed_data/ (with RINGSIDE_DEMO=1 the demo unit)")
    load.add_argument("--all", action="store_true", help="tell unchanged files as well")
    load.set_defaults(command=_load)


def _load(asked: argparse.Namespace) -> int:
    settings = read_settings()
    with migrated_database(settings) as engine, transaction(engine) as session:
        told = seed(session, now=datetime.now(UTC), demo=settings.demo)
    for line in told:
        if asked.all or line.outcome != "unchanged":
            print(line, file=sys.stderr if line.outcome == "refused" else sys.stdout)
    counts = Counter(line.outcome for line in told)
    print(", ".join(f"{counts[outcome]} {outcome}" for outcome in OUTCOMES))
    return FAULTY if counts["refused"] else 0
