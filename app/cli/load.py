"""`ringside load`."""

import argparse
import sys
from collections import Counter
from datetime import UTC, datetime

from sqlalchemy.orm import Session

from app.cli.parts import FAULTY, Commands, migrated_database
from app.review.workflow import now_in
from app.security.passwords import hash_password
from app.settings import read_settings
from app.storage.changes.release import OUTCOMES
from app.storage.database import transaction
from app.storage.past.load import keep_beds, load_invented
from app.storage.patients import read_beds, read_unit
from app.storage.people.accounts import find_account
from app.storage.people.demo import DEMO_PASSWORD, DEMO_PEOPLE, load_demo_people
from app.storage.seed import seed
from app.storage.seed_files import read_vocabulary


def add(commands: Commands) -> None:
    """The command's options."""
    load = commands.add_parser("load", help="load seed_data/ (with RINGSIDE_DEMO=1 the demo unit)")
    load.add_argument("--all", action="store_true", help="tell unchanged files as well")
    load.set_defaults(command=_load)


def _load(asked: argparse.Namespace) -> int:
    settings = read_settings()
    with migrated_database(settings) as engine, transaction(engine) as session:
        told = seed(session, now=datetime.now(UTC), demo=settings.demo)
        past = _past(session, demo=settings.demo)
        people = _people(session) if settings.demo else ()
    for line in told:
        if asked.all or line.outcome != "unchanged":
            print(line, file=sys.stderr if line.outcome == "refused" else sys.stdout)
    counts = Counter(line.outcome for line in told)
    print(", ".join(f"{counts[outcome]} {outcome}" for outcome in OUTCOMES))
    if past:
        print(f"Past orders: {past:,} requests added")
    if people:
        print(f"Demo sign-ins made: {', '.join(people)}")
    return FAULTY if counts["refused"] else 0


def _people(session: Session) -> tuple[str, ...]:
    """The demo unit's people, if one of them is missing: hashing is slow on purpose."""
    missing = any(find_account(session, sign_in) is None for sign_in, _, _ in DEMO_PEOPLE)
    if not missing:
        return ()
    return load_demo_people(session, hash_password(DEMO_PASSWORD), datetime.now(UTC))


def _past(session: Session, *, demo: bool) -> int:
    """Past orders to try changes on: invented for the demo; of a unit, its beds as they stand."""
    unit = read_unit(session)
    if unit is None:
        return 0
    if unit.fixed_now is not None:
        return load_invented(session, unit.fixed_now) if demo else 0
    return keep_beds(session, read_beds(session, unit.id), now_in(unit), read_vocabulary())
