"""`ringside recompute`."""

import argparse
from pathlib import Path
from typing import Final

from app.cli.parts import UNREADABLE, Commands, complain, unreadable
from app.intake.errors import InputError
from app.review.receipts.reading import read_kept
from app.review.receipts.recompute import recomputed
from app.review.receipts.then import InForceThen
from app.review.workflow import knowledge_at_hand, past_at_hand
from app.settings import read_settings
from app.storage.receipt_files import read_receipt_files

NOT_THE_SAME: Final = 1


def add(commands: Commands) -> None:
    """The command's options."""
    recompute = commands.add_parser(
        "recompute",
        help="make receipts again and say where they differ",
        description="Exit status: 0 all the same to the digit, 1 one differs, was edited or is "
        "missing from its review, 2 not readable.",
    )
    recompute.add_argument("file", metavar="FILE", help="a receipt, or a folder of receipts")
    recompute.set_defaults(command=_recompute)


def _recompute(asked: argparse.Namespace) -> int:
    try:
        files = read_receipt_files(Path(asked.file))
    except InputError as problem:
        return unreadable(problem)
    receipts, not_receipts = read_kept(files.documents)
    not_read = (*files.not_read, *not_receipts)
    url = read_settings().database_url
    past = past_at_hand(url)
    verdicts = recomputed(
        receipts,
        knowledge_at_hand(url),
        whole=files.whole,
        then=None if past is None else InForceThen(past),
    )
    for verdict in verdicts:
        print(verdict)
    complain(not_read)
    if not_read:
        return UNREADABLE
    return NOT_THE_SAME if any(verdict.state != "same" for verdict in verdicts) else 0
