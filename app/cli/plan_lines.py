"""`ringside plan-lines`."""

import argparse
from pathlib import Path
from typing import Final

from app.catalogue.pairs.answer import PairBook
from app.cli.parts import Commands, reads_a_file, unreadable
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.review.lines import as_text
from app.review.lines.pairs import plan_with_facts
from app.review.workflow import knowledge_at_hand
from app.settings import read_settings
from app.storage.order_file import read_request_file

LUMENS_SHORT: Final = 1


def add(commands: Commands) -> None:
    """The command's options."""
    lines = commands.add_parser(
        "plan-lines",
        help="plan which lumen carries what, and when",
        description="Exit status: 0 the lumens given suffice, 1 they do not, 2 not readable.",
    )
    reads_a_file(lines, "JSON as for POST /api/line-plan", _plan_lines)


def _plan_lines(asked: argparse.Namespace) -> int:
    known = knowledge_at_hand(read_settings().database_url)
    names = name_book(known.catalogue, known.vocabulary)
    try:
        request = read_request_file(Path(asked.file))
        told = plan_with_facts(request, names, PairBook(known.pairs))
    except (InputError, InputErrors) as problem:
        return unreadable(problem)
    print(as_text.as_json(told) if asked.json else "\n".join(as_text.lines_of(told)))
    return 0 if told.solution.feasible else LUMENS_SHORT
