"""The server's log tells where a fault was and of what kind, and no word of what was being read."""

import logging
from collections.abc import Iterator
from traceback import format_tb
from typing import Final

LOGGERS: Final = ("uvicorn.error", "gunicorn.error", "asyncio")
LEFT_OUT: Final = "its words are left out, since they may be a patient’s"


class WithoutWords(logging.Filter):
    """Leaves of an exception its kind and its places in our code."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Write the exception of a record here, before anybody else does."""
        error = record.exc_info[1] if record.exc_info else None
        if error is not None:
            record.exc_text = "\n".join(told(error))
            record.exc_info = None
        return True


WITHOUT_WORDS: Final = WithoutWords()


def told(error: BaseException) -> Iterator[str]:
    """An exception and those it came of, the first one first."""
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if before is not None:
        yield from told(before)
        yield ""
    yield "Traceback (most recent call last):"
    yield "".join(format_tb(error.__traceback__)).rstrip("\n")
    kind = type(error)
    yield f"{kind.__module__}.{kind.__qualname__} ({LEFT_OUT})"


def install() -> None:
    """Have every server's log of faults go through it; a second time changes nothing."""
    for name in LOGGERS:
        logging.getLogger(name).addFilter(WITHOUT_WORDS)
