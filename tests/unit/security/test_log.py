"""The log of a fault: where, and of what kind; never what was being read."""

import io
import logging
from collections.abc import Iterator

import pytest

from app.security.log import LOGGERS, WITHOUT_WORDS, install

WORDS = "Mr Ash of bed 7"


@pytest.fixture
def written() -> Iterator[io.StringIO]:
    """What a handler of the server's own logger writes."""
    text = io.StringIO()
    handler = logging.StreamHandler(text)
    logger = logging.getLogger(LOGGERS[0])
    logger.addHandler(handler)
    install()
    install()
    yield text
    logger.removeHandler(handler)
    for name in LOGGERS:
        logging.getLogger(name).removeFilter(WITHOUT_WORDS)


def read_the(bed: str) -> None:
    raise KeyError(bed)


def test_a_fault_is_logged_by_kind_and_place_without_a_word_of_a_patient(
    written: io.StringIO,
) -> None:
    try:
        try:
            read_the(WORDS)
        except KeyError as error:
            raise ValueError(f"{WORDS} was not read") from error
    except ValueError as error:
        logging.getLogger(LOGGERS[0]).error("Exception in ASGI application\n", exc_info=error)
    log = written.getvalue()
    assert WORDS not in log
    assert log.index("builtins.KeyError") < log.index("builtins.ValueError")
    assert "in read_the" in log and "test_log.py" in log
    assert log.count("Exception in ASGI application") == 1


def test_a_line_without_a_fault_stays_as_it_is(written: io.StringIO) -> None:
    logging.getLogger(LOGGERS[0]).error("Started on %s", "port 8000")
    assert written.getvalue() == "Started on port 8000\n"


def test_what_was_kept_from_the_log_on_purpose_stays_out(written: io.StringIO) -> None:
    try:
        try:
            read_the(WORDS)
        except KeyError:
            raise RuntimeError(WORDS) from None
    except RuntimeError:
        logging.getLogger(LOGGERS[0]).exception("fault")
    assert "KeyError" not in written.getvalue()
    assert WORDS not in written.getvalue()
