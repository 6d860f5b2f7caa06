"""`ringside verify-audit` and `ringside audit-anchor`."""

import argparse
import getpass
import sys
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter
from typing import Final

from app.cli.parts import FAULTY, UNREADABLE, Commands, migrated_database, unreadable
from app.intake.errors import InputError
from app.settings import read_settings
from app.storage.audit.anchors import anchor_line, append_anchor, expected, read_anchors
from app.storage.audit.chain import key_of
from app.storage.audit.check import Anchor, Verdict
from app.storage.audit.reading import check_trail, read_head
from app.storage.audit.sealing import seal_anew
from app.storage.audit.trail import Done, NoTrail
from app.storage.database import reading, transaction

MOST_TOLD: Final = 40
SHORTEST_REASON: Final = 10


def add(commands: Commands) -> None:
    """The commands' options."""
    verify = commands.add_parser(
        "verify-audit",
        help="check that the trail of acts is as it was written",
        description="Exit status: 0 whole, 1 an edit, a gap, another order or a cut end was "
        "found, 2 it could not be checked. A trail that was cut and mended by somebody who may "
        "write to the database is found by an anchor kept elsewhere, or by the seal that is made "
        "with RINGSIDE_SECRET.",
    )
    kept = verify.add_mutually_exclusive_group()
    kept.add_argument("--expect", metavar="HASH", help="a hash that one row must have")
    kept.add_argument("--anchors", metavar="FILE", help="lines that audit-anchor printed")
    verify.set_defaults(command=_verify)

    anchor = commands.add_parser(
        "audit-anchor",
        help="print count and hash of the trail, to be kept elsewhere",
        description="Keep the line where nobody who may write to the database may write. "
        "Exit status: 0 printed, 2 there is nothing to anchor.",
    )
    anchor.add_argument("--append", metavar="FILE", help="add the line to a file as well")
    anchor.add_argument(
        "--seal-anew", metavar="REASON", help="first seal a trail whose seal does not hold"
    )
    anchor.set_defaults(command=_anchor)


def _verify(asked: argparse.Namespace) -> int:
    settings = read_settings()
    try:
        anchors = _anchors(asked)
    except InputError as problem:
        return unreadable(problem)
    started = perf_counter()
    with migrated_database(settings) as engine, reading(engine) as session:
        verdict = check_trail(session, key_of(settings.trail_secret), anchors)
    _tell(verdict, len(anchors), perf_counter() - started)
    return 0 if verdict.whole else FAULTY


def _anchors(asked: argparse.Namespace) -> tuple[Anchor, ...]:
    if asked.expect is not None:
        return (expected(asked.expect),)
    return read_anchors(Path(asked.anchors)) if asked.anchors is not None else ()


def _tell(verdict: Verdict, anchors: int, seconds: float) -> None:
    rows = verdict.upto.rows
    for fault in verdict.faults[:MOST_TOLD]:
        print(fault)
    more = verdict.more + max(0, len(verdict.faults) - MOST_TOLD)
    if more:
        print(f"and {more:,} more")
    pace = f"{seconds:.1f} s, {rows / seconds:,.0f} rows a second"
    print(f"{'Whole' if verdict.whole else 'NOT whole'}: {rows:,} rows checked in {pace}.")
    print(f"Last hash: {verdict.upto.last or 'none'}")
    print(f"Seal: {verdict.sealed}.")
    if not anchors:
        print("Anchors: none given, so an end cut off together with its head row is not ruled out.")


def _anchor(asked: argparse.Namespace) -> int:
    settings, now = read_settings(), datetime.now(UTC)
    try:
        with migrated_database(settings) as engine:
            if asked.seal_anew is not None:
                with transaction(engine) as session:
                    seal_anew(session, _sealer(asked.seal_anew, now))
            with reading(engine) as session:
                head = read_head(session)
        if head is None:
            raise NoTrail
        line = anchor_line(head, now)
        if asked.append:
            append_anchor(Path(asked.append), line)
    except InputError as problem:
        return unreadable(problem)
    except NoTrail as gone:
        print(gone, file=sys.stderr)
        return UNREADABLE
    print(line)
    return 0


def _sealer(reason: str, now: datetime) -> Done:
    """Who runs the command, as the machine knows them."""
    if len(reason.strip()) < SHORTEST_REASON:
        raise InputError("--seal-anew", reason, f"a reason of at least {SHORTEST_REASON} letters")
    name = getpass.getuser()
    return Done(now, f"{name}, at the command line", "", "", "", after={"reason": reason.strip()})
