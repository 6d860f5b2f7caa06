"""Two things no test is written for and every test may show: a word of a patient in a log or on
the app's own output, and something a page wrote that the trail knows nothing of.

tests/conftest.py takes the hooks and fixtures from here.
"""

import logging
import re
import tomllib
from collections.abc import Generator, Iterator, Mapping
from contextvars import ContextVar
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from sqlalchemy import Connection, Engine, event

ROOT = Path(__file__).resolve().parents[1]
PATIENTS = ROOT / "seed_data" / "demo" / "patients"
CONTENT = ("seed_data/fluids", "seed_data/vocabulary", "seed_data/rule_examples", "app")
LONG_ENOUGH = 16
# Loggers of ours and of the server; a library's own debugging is switched on by nobody.
LISTENED_TO = ("app", "ringside", "uvicorn", "alembic", "fastapi")
# These print what they were asked for, to whom asked: it is what they are for.
PRINTS = ("tests/unit/cli/", "tests/contract/", "tests/benchmarks/", "tests/browser/pictures")


# ---- words of patients ------------------------------------------------------------------------


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for part in value.values():
            yield from _texts(part)
    elif isinstance(value, list):
        for part in value:
            yield from _texts(part)


@cache
def words_of_patients() -> frozenset[str]:
    """What is written of the demo's patients and nowhere in content: ids, and texts long enough
    to be told apart.
    """
    files = [path for part in CONTENT for path in (ROOT / part).rglob("*") if path.is_file()]
    content = "\n".join(
        path.read_text("utf-8") for path in files if path.suffix in (".toml", ".py")
    )
    words: set[str] = set()
    for path in PATIENTS.glob("*.toml"):
        words.add(path.stem)
        patient = tomllib.loads(path.read_text("utf-8"))
        words |= {text for text in _texts(patient) if len(text) >= LONG_ENOUGH}
    return frozenset(word for word in words if word not in content)


@cache
def _beds() -> re.Pattern[str]:
    """A bed beside its patient's initials, whatever stands between them."""
    pairs = []
    for path in PATIENTS.glob("*.toml"):
        patient = tomllib.loads(path.read_text("utf-8"))
        bed, initials = (re.escape(str(patient[name])) for name in ("bed", "initials"))
        pairs += [rf"\b{bed}\W{{1,12}}{initials}", rf"{initials}\W{{1,12}}{bed}\b"]
    return re.compile("|".join(pairs))


def leaked(text: str) -> list[str]:
    """Every word of a patient in a text."""
    found = [word for word in words_of_patients() if word in text]
    return sorted(found + [match[0] for match in _beds().finditer(text)])


class Ear(logging.Handler):
    """Hears every record, whatever a test does with its own capturing."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a record that holds a word of a patient, or an error with one in its traceback."""
        text = self.format(record)
        if leaked(text):
            self.heard.append(f"{record.name}: {text}")


EAR = Ear()


@pytest.fixture(autouse=True, scope="session")
def no_patient_in_logs() -> Iterator[None]:
    """Listen to our loggers at their loudest, all through the suite."""
    logging.getLogger().addHandler(EAR)
    before = {name: logging.getLogger(name).level for name in LISTENED_TO}
    for name in LISTENED_TO:
        logging.getLogger(name).setLevel(logging.DEBUG)
    yield
    for name, level in before.items():
        logging.getLogger(name).setLevel(level)
    logging.getLogger().removeHandler(EAR)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Fail the test during which a word of a patient was logged or printed."""
    report = yield
    said = list(EAR.heard)
    EAR.heard.clear()
    if not item.nodeid.startswith(PRINTS):
        said += [
            f"{name}: {word}"
            for name, text in report.sections
            if name.startswith("Captured std")
            for word in leaked(text)
        ]
    if said and report.outcome == "passed":
        report.outcome = "failed"
        report.longrepr = "a word of a patient was logged or printed:\n" + "\n".join(said)
    return report


# ---- writes without an act --------------------------------------------------------------------

WRITES = re.compile(r"\s*(INSERT INTO|UPDATE|DELETE FROM)\s+\"?(\w+)", re.IGNORECASE)
TRAIL = "trail_row"
# What a page may write without an act, and why.
NO_ACTS: Mapping[str, str] = {
    "signed_in": "coming and going is nobody's business but the session's",
    "sign_in_attempt": "wrong tries are counted, not judged",
    "trail_head": "moves with the trail",
    "update machine_token": "when a machine was last here; making and ending one are acts",
    "past_order": "what a bed holds as it is reviewed, without its person; nobody's act",
    "replay": "how far a run is; that it was asked for and what came out are acts",
}
ASKED: ContextVar[str] = ContextVar("asked", default="")
WRITTEN = "written by a page"


@pytest.fixture(autouse=True, scope="session")
def pages_are_known() -> Iterator[None]:
    """Within a request, what is written knows which it was."""
    answer = FastAPI.__call__

    async def known(self: FastAPI, scope: Any, receive: Any, send: Any) -> None:  # noqa: ANN401
        token = ASKED.set(f"{scope.get('method', '')} {scope.get('path', '')}")
        try:
            await answer(self, scope, receive, send)
        finally:
            ASKED.reset(token)

    FastAPI.__call__ = known  # type: ignore[method-assign]
    yield
    FastAPI.__call__ = answer  # type: ignore[method-assign]


def watched() -> Iterator[list[str]]:
    """While it is held: what pages wrote in a transaction without an act."""
    silent: list[str] = []

    def note(connection: Connection, _cursor: object, statement: str, *_rest: object) -> None:
        found = WRITES.match(statement)
        if found and ASKED.get():
            how, table = found[1].split()[0].lower(), found[2].lower()
            connection.info.setdefault(WRITTEN, set()).add((how, table))

    def kept(connection: Connection) -> None:
        written: set[tuple[str, str]] = connection.info.get(WRITTEN, set())
        acts = {table for how, table in written if not {table, f"{how} {table}"} & {*NO_ACTS}}
        if acts and TRAIL not in acts:
            silent.append(f"{ASKED.get()} wrote {', '.join(sorted(acts))} and no act")

    def begun(connection: Connection) -> None:
        connection.info.pop(WRITTEN, None)

    listened = (("after_cursor_execute", note), ("commit", kept), ("begin", begun))
    for name, listener in listened:
        event.listen(Engine, name, listener)
    yield silent
    for name, listener in listened:
        event.remove(Engine, name, listener)


@pytest.fixture(autouse=True)
def every_write_is_an_act(request: pytest.FixtureRequest) -> Iterator[None]:
    """Whatever a page writes in one transaction, the trail knows of it."""
    if request.path.name == "test_watch.py":  # which does so on purpose
        yield
        return
    watching = watched()
    silent = next(watching)
    yield
    next(watching, None)
    assert silent == []
