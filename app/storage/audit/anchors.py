"""Anchors: count and hash of the trail, kept where nobody who can write to the database can write.

One a line: the moment, `rows` and how many, `sha256` and the last hash.
"""

import re
from datetime import datetime
from pathlib import Path
from typing import Final

from app.intake.errors import InputError
from app.storage.audit.chain import Head
from app.storage.audit.check import Anchor

HASH: Final = re.compile(r"[0-9a-f]{64}")
LINE: Final = re.compile(r"(?P<at>\S+) rows (?P<rows>[0-9]{1,15}) sha256 (?P<sha256>[0-9a-f]{64})")
ACCEPTED: Final = "lines as `ringside audit-anchor` prints them"
SHOWN: Final = 60


def anchor_line(head: Head, at: datetime) -> str:
    """One anchor as a line, without its end. An empty trail has no anchor: raises InputError."""
    if not head.count:
        raise InputError("trail", "empty", "at least one act, so that there is a hash to keep")
    return f"{at.isoformat(timespec='seconds')} rows {head.count} sha256 {head.last}"


def anchors_from(text: str, name: str) -> tuple[Anchor, ...]:
    """Every anchor of a file; blank lines are passed over.

    Raises InputError for a line that is none, and for a file without any: it would prove nothing.
    """
    lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    if not lines:
        raise InputError("FILE", name, f"{ACCEPTED}; it has none")
    return tuple(_anchor(line, f"{name}, line {number}") for number, line in lines)


def _anchor(line: str, place: str) -> Anchor:
    found = LINE.fullmatch(line)
    if found is None:
        raise InputError(place, line[:SHOWN], ACCEPTED)
    return Anchor(found["sha256"], int(found["rows"]), f"{place} ({found['at']})")


def read_anchors(path: Path) -> tuple[Anchor, ...]:
    """Every anchor of a file. Raises InputError."""
    try:
        return anchors_from(path.read_text(encoding="utf-8"), path.name)
    except (OSError, UnicodeError) as error:
        accepted = f"a text file that can be read ({type(error).__name__})"
        raise InputError("FILE", str(path), accepted) from error


def append_anchor(path: Path, line: str) -> None:
    """Add one line to a file, making it. Raises InputError where that cannot be done."""
    try:
        with path.open("a", encoding="utf-8") as file:
            file.write(line + "\n")
    except OSError as error:
        accepted = f"a file that can be written to ({error.strerror})"
        raise InputError("FILE", str(path), accepted) from error


def expected(text: str) -> Anchor:
    """A hash typed by a person. Raises InputError when it is none."""
    if HASH.fullmatch(text.strip().lower()) is None:
        raise InputError("--expect", text[:SHOWN], "a hash of 64 hexadecimal digits")
    return Anchor(text.strip().lower(), place="the hash expected")
