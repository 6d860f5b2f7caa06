"""`ringside review`."""

import argparse
import json
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from app.cautions.rule import LEVELS
from app.cli.parts import UNREADABLE, Commands, complain, reads_a_file, unreadable
from app.intake.errors import InputError, InputErrors
from app.review.as_text import lines_of
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.receipts.receipt import file_name, receipts_of, text_of
from app.review.receipts.versions import versions_of
from app.review.reply import reply_of
from app.review.workflow import knowledge_at_hand, review_request
from app.settings import read_settings
from app.storage.order_file import read_order_file
from app.storage.receipt_files import write_receipt_files

SOMETHING_LOUD: Final = 1
RANK_OF_INFO: Final = LEVELS.index("info")


def add(commands: Commands) -> None:
    """The command's options."""
    review = commands.add_parser(
        "review",
        help="review the orders in a file",
        description="Exit status: 0 nothing at warning or above, 1 something, 2 not readable.",
    )
    reads_a_file(review, "JSON as for POST /api/review, or CSV orders", _review)
    review.add_argument("--receipts", metavar="FOLDER", help="write a receipt for each finding")


def _review(asked: argparse.Namespace) -> int:
    now = datetime.now(UTC).astimezone()
    knowledge = knowledge_at_hand(read_settings().database_url)
    try:
        file = read_order_file(Path(asked.file), zone=now.tzinfo or UTC)
        reviews = {
            patient: review_request(request, knowledge, now=now)
            for patient, request in file.requests.items()
        }
        if asked.receipts:
            _write_receipts(Path(asked.receipts), file.requests, reviews, knowledge)
    except (InputError, InputErrors) as problem:
        return unreadable(problem)
    complain((*file.not_read, *file.left_out))
    print(_as_json(reviews, knowledge) if asked.json else _as_text(reviews))
    if file.not_read or not reviews:
        return UNREADABLE
    return SOMETHING_LOUD if any(r.worst < RANK_OF_INFO for r in reviews.values()) else 0


def _write_receipts(
    folder: Path,
    requests: Mapping[str, Mapping[str, object]],
    reviews: Mapping[str, Review],
    knowledge: Knowledge,
) -> None:
    versions = versions_of(knowledge)
    about = {patient: {"patient_no": patient} if patient else {} for patient in reviews}
    receipts = (
        receipt
        for patient, review in reviews.items()
        for receipt in receipts_of(requests[patient], review, versions, about[patient])
    )
    write_receipt_files(folder, {file_name(one): text_of(one) for one in receipts})


def _as_text(reviews: Mapping[str, Review]) -> str:
    blocks = (
        [f"Patient {patient}"] * bool(patient) + list(lines_of(review))
        for patient, review in reviews.items()
    )
    return "\n\n".join("\n".join(block) for block in blocks)


def _as_json(reviews: Mapping[str, Review], knowledge: Knowledge) -> str:
    """One reply, or one a patient when the file names patients."""
    replies = {
        patient: reply_of(review, knowledge.catalogue, knowledge.ruleset, knowledge.vehicles)
        for patient, review in reviews.items()
    }
    named = [{"patient_no": patient, **reply} for patient, reply in replies.items()]
    return json.dumps(replies.get("", {"reviews": named}), ensure_ascii=False, indent=2)
