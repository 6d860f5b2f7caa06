"""`ringside predict`."""

import argparse
from datetime import UTC, datetime
from pathlib import Path

from app.cli.parts import Commands, reads_a_file, unreadable
from app.intake.errors import InputError, InputErrors
from app.review.predict import as_text
from app.review.predict.predict import predict
from app.review.workflow import knowledge_at_hand
from app.settings import read_settings
from app.storage.order_file import read_request_file


def add(commands: Commands) -> None:
    """The command's options."""
    prediction = commands.add_parser(
        "predict",
        help="predict what infusions do to a patient",
        description="Exit status: 0 predicted, 2 not readable.",
    )
    reads_a_file(prediction, "JSON as for POST /api/predict", _predict)


def _predict(asked: argparse.Namespace) -> int:
    known = knowledge_at_hand(read_settings().database_url)
    now = datetime.now(UTC).astimezone()
    try:
        request = read_request_file(Path(asked.file))
        told = predict(request, catalogue=known.catalogue, vocabulary=known.vocabulary, now=now)
    except (InputError, InputErrors) as problem:
        return unreadable(problem)
    print(as_text.as_json(told) if asked.json else "\n".join(as_text.lines_of(told)))
    return 0
