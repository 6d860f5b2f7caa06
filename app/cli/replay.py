"""`ringside replay CHANGE_ID`."""

import argparse
import getpass
import json
import secrets
import sys
from datetime import UTC, datetime
from threading import Thread
from typing import Final

from sqlalchemy import Engine

from app.catalogue.entry import EntryError
from app.cli.parts import Commands, migrated_database
from app.review.replay.asked import change_of, terms_of_replay, with_change
from app.review.replay.running import Plan, Where, start
from app.settings import Settings, read_settings
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.storage.past.past import held_past
from app.storage.replays import jobs
from app.storage.replays.results import ReplayResult, newest_replay

OVER_CAP: Final = 1
NOT_RUN: Final = 2
LOOKS_EVERY_S: Final = 1.0
SEED_BYTES: Final = 8


def add(commands: Commands) -> None:
    """The command's options."""
    replay = commands.add_parser(
        "replay",
        help="run a drafted change silently on past orders",
        description="Exit status: 0 finished and burden rises by no more than RINGSIDE_BURDEN_CAP,"
        " 1 it rises by more, 2 it could not be run.",
    )
    replay.add_argument("change", metavar="CHANGE_ID", type=int, help="number of the change")
    replay.add_argument("--workers", type=int, help="processes to run (default: one a core)")
    replay.add_argument("--json", action="store_true", help="print the numbers as JSON")
    replay.set_defaults(command=_replay)


def _replay(asked: argparse.Namespace) -> int:
    settings = read_settings()
    if asked.workers is not None and asked.workers < 1:
        return _not_run("--workers: at least 1")
    with migrated_database(settings) as engine:
        try:
            plan = _plan(engine, settings, asked)
        except (LookupError, EntryError) as problem:
            return _not_run(str(problem))
        _watch(engine, plan.run_id, start(plan, lambda: datetime.now(UTC)))
        return _told(engine, plan, as_json=asked.json)


def _plan(engine: Engine, settings: Settings, asked: argparse.Namespace) -> Plan:
    now, seed = datetime.now(UTC), secrets.token_hex(SEED_BYTES)
    with transaction(engine) as session:
        change = change_of(session, asked.change)
        if change is None:
            raise LookupError(f"There is no change {asked.change}.")
        if not held_past(session).requests:
            raise LookupError("There are no past orders to run it on.")
        two, terms = with_change(session, change, now), terms_of_replay(session, seed)
        who = f"{getpass.getuser()}, at the command line"
        run_id = jobs.ask(session, jobs.Asked(now, who, "", seed, asked.change))
        record(
            session, at=now, who=who, account_id="", act="replay asked for",
            subject=f"replay:{run_id}", after={"change": asked.change},
        )  # fmt: skip
    where = Where(settings.dask_address, asked.workers)
    return Plan(engine, run_id, two, terms, settings.burden_cap, where)


def _watch(engine: Engine, run_id: int, thread: Thread) -> None:
    while thread.is_alive():
        thread.join(LOOKS_EVERY_S)
        with reading(engine) as session:
            run = jobs.read_run(session, run_id, datetime.now(UTC))
        if run is not None and run.total:
            print(f"{run.done:,} of {run.total:,} requests", file=sys.stderr)


def _told(engine: Engine, plan: Plan, *, as_json: bool) -> int:
    with reading(engine) as session:
        run = jobs.read_run(session, plan.run_id, datetime.now(UTC))
        assert run is not None
        if run.state != "finished":
            return _not_run(run.message)
        result = newest_replay(session, run.change_id)
    assert result is not None
    print(json.dumps(run.numbers, indent=2) if as_json else "\n".join(lines_of(result)))
    return OVER_CAP if result.over_cap else 0


def lines_of(result: ReplayResult) -> list[str]:
    """A result in a few lines."""
    lines = [
        f"{result.requests:,} requests with {result.orders:,} orders.",
        f"Findings that would appear: {result.appear:,}; vanish: {result.vanish:,};"
        f" change level: {result.level:,}.",
        f"At warning or above per 100 orders: {_per(result.burden_before)} before,"
        f" {_per(result.burden_after)} after.",
        f"Critical per 100 orders: {_per(result.critical_before)} before,"
        f" {_per(result.critical_after)} after.",
    ]
    if result.critical_lost:
        lines.append(
            f"Critical findings that would fall silent or be said more quietly: "
            f"{result.critical_lost:,}. Approval needs a written reason."
        )
    if result.newly_unread:
        lines.append(f"Requests that could no longer be read: {result.newly_unread:,}.")
    if result.over_cap:
        lines.append(f"This is over the cap of {result.cap:g}: approval needs a written reason.")
    return lines


def _per(burden: float | None) -> str:
    return "no orders" if burden is None else f"{burden:.1f}"


def _not_run(why: str) -> int:
    print(why, file=sys.stderr)
    return NOT_RUN
