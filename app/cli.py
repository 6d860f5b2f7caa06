"""The command `ringside`: serve, migrate, load, review, predict, plan-lines, recompute and more."""

import argparse
import json
import os
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import uvicorn
from sqlalchemy import Engine

from app.catalogue.pairs.answer import PairBook
from app.cautions.rule import LEVELS
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.review.as_text import lines_of
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.lines import as_text as lines_text
from app.review.lines.pairs import plan_with_facts
from app.review.predict import as_text as predict_text
from app.review.predict.predict import predict
from app.review.receipts.reading import read_kept
from app.review.receipts.receipt import file_name, receipts_of, text_of
from app.review.receipts.recompute import recomputed
from app.review.receipts.versions import versions_of
from app.review.reply import reply_of
from app.review.workflow import knowledge_at_hand, review_request
from app.settings import SettingError, Settings, read_settings
from app.storage.check_data import faults_of_seed_data
from app.storage.database import connect, current, head, migrate, transaction
from app.storage.order_file import read_order_file, read_request_file
from app.storage.receipt_files import read_receipt_files, write_receipt_files
from app.storage.seed import OUTCOMES, seed

SOMETHING_LOUD: Final = 1
FAULTY: Final = 1
LUMENS_SHORT: Final = 1
NOT_THE_SAME: Final = 1
UNREADABLE: Final = 2
RANK_OF_INFO: Final = LEVELS.index("info")

Command = Callable[[argparse.Namespace], int]


class NotMigrated(Exception):
    """The database is not at this release."""

    def __str__(self) -> str:
        return "The database is not at this release's tables: run `ringside migrate` first."


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

    serve = commands.add_parser("serve", help="serve the pages and the interface")
    serve.add_argument("--host", help="address to listen on (default: HOST, or 127.0.0.1)")
    serve.add_argument("--port", help="port (default: PORT, or 8000)")
    serve.set_defaults(command=_serve)

    migration = commands.add_parser("migrate", help="bring the database to this release's tables")
    migration.set_defaults(command=_migrate)

    load = commands.add_parser("load", help="load seed_data/ (with RINGSIDE_DEMO=1 the demo unit)")
    load.add_argument("--all", action="store_true", help="tell unchanged files as well")
    load.set_defaults(command=_load)

    _add_reading_commands(commands)

    recompute = commands.add_parser(
        "recompute",
        help="make receipts again and say where they differ",
        description="Exit status: 0 all the same to the digit, 1 one differs, was edited or is "
        "missing from its review, 2 not readable.",
    )
    recompute.add_argument("file", metavar="FILE", help="a receipt, or a folder of receipts")
    recompute.set_defaults(command=_recompute)

    check = commands.add_parser("check-data", help="check every file of seed_data/")
    check.set_defaults(command=_check_data)
    return parser


def _add_reading_commands(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """What reads one file and answers of it."""
    review = commands.add_parser(
        "review",
        help="review the orders in a file",
        description="Exit status: 0 nothing at warning or above, 1 something, 2 not readable.",
    )
    _reads_a_file(review, "JSON as for POST /api/review, or CSV orders", _review)
    review.add_argument("--receipts", metavar="FOLDER", help="write a receipt for each finding")

    prediction = commands.add_parser(
        "predict",
        help="predict what infusions do to a patient",
        description="Exit status: 0 predicted, 2 not readable.",
    )
    _reads_a_file(prediction, "JSON as for POST /api/predict", _predict)

    lines = commands.add_parser(
        "plan-lines",
        help="plan which lumen carries what, and when",
        description="Exit status: 0 the lumens given suffice, 1 they do not, 2 not readable.",
    )
    _reads_a_file(lines, "JSON as for POST /api/line-plan", _plan_lines)


def _reads_a_file(reading: argparse.ArgumentParser, holds: str, command: Command) -> None:
    reading.add_argument("file", metavar="FILE", help=holds)
    reading.add_argument("--json", action="store_true", help="print the JSON reply")
    reading.set_defaults(command=command)


def _serve(asked: argparse.Namespace) -> int:
    given = {"HOST": asked.host, "PORT": asked.port}
    environment = {**os.environ, **{name: value for name, value in given.items() if value}}
    settings = read_settings(environment)
    os.environ.update(environment)  # the app reads its settings by itself
    with _migrated_database(settings):
        pass
    config = uvicorn.Config("app.main:create_app", factory=True, log_level="warning")
    config.host, config.port = settings.host, settings.port
    config.load()
    listening = config.bind_socket()
    print(f"Ringside: {_address(settings)}", flush=True)
    with suppress(KeyboardInterrupt):  # how a person stops it
        uvicorn.Server(config).run(sockets=[listening])
    return 0


def _address(settings: Settings) -> str:
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    return f"http://{host}:{settings.port}"


@contextmanager
def _migrated_database(settings: Settings) -> Iterator[Engine]:
    engine = connect(settings.database_url)
    try:
        if current(engine) != head():
            raise NotMigrated
        yield engine
    finally:
        engine.dispose()


def _migrate(_asked: argparse.Namespace) -> int:
    engine = connect(read_settings().database_url)
    before, after = migrate(engine)
    engine.dispose()
    print(f"Database at {after}." if before == after else f"Database: {before} to {after}.")
    return 0


def _load(asked: argparse.Namespace) -> int:
    settings = read_settings()
    with _migrated_database(settings) as engine, transaction(engine) as session:
        told = seed(session, now=datetime.now(UTC), demo=settings.demo)
    for line in told:
        if asked.all or line.outcome != "unchanged":
            print(line, file=sys.stderr if line.outcome == "refused" else sys.stdout)
    counts = Counter(line.outcome for line in told)
    print(", ".join(f"{counts[outcome]} {outcome}" for outcome in OUTCOMES))
    return FAULTY if counts["refused"] else 0


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
        return _unreadable(problem)
    _complain((*file.not_read, *file.left_out))
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


def _predict(asked: argparse.Namespace) -> int:
    known = knowledge_at_hand(read_settings().database_url)
    now = datetime.now(UTC).astimezone()
    try:
        request = read_request_file(Path(asked.file))
        told = predict(request, catalogue=known.catalogue, vocabulary=known.vocabulary, now=now)
    except (InputError, InputErrors) as problem:
        return _unreadable(problem)
    print(predict_text.as_json(told) if asked.json else "\n".join(predict_text.lines_of(told)))
    return 0


def _plan_lines(asked: argparse.Namespace) -> int:
    known = knowledge_at_hand(read_settings().database_url)
    names = name_book(known.catalogue, known.vocabulary)
    try:
        request = read_request_file(Path(asked.file))
        told = plan_with_facts(request, names, PairBook(known.pairs))
    except (InputError, InputErrors) as problem:
        return _unreadable(problem)
    print(lines_text.as_json(told) if asked.json else "\n".join(lines_text.lines_of(told)))
    return 0 if told.solution.feasible else LUMENS_SHORT


def _recompute(asked: argparse.Namespace) -> int:
    try:
        files = read_receipt_files(Path(asked.file))
    except InputError as problem:
        return _unreadable(problem)
    receipts, not_receipts = read_kept(files.documents)
    not_read = (*files.not_read, *not_receipts)
    knowledge = knowledge_at_hand(read_settings().database_url)
    verdicts = recomputed(receipts, knowledge, whole=files.whole)
    for verdict in verdicts:
        print(verdict)
    _complain(not_read)
    if not_read:
        return UNREADABLE
    return NOT_THE_SAME if any(verdict.state != "same" for verdict in verdicts) else 0


def _unreadable(problem: InputError | InputErrors) -> int:
    _complain(problem.errors if isinstance(problem, InputErrors) else (problem,))
    return UNREADABLE


def _complain(problems: Iterable[object]) -> None:
    for problem in problems:
        print(problem, file=sys.stderr)


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


def _check_data(_asked: argparse.Namespace) -> int:
    faults = faults_of_seed_data()
    for fault in faults:
        print(fault)
    print(f"{len(faults)} faults in seed_data/" if faults else "seed_data/ is sound")
    return FAULTY if faults else 0
