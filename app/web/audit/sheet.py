"""Rows as a file: CSV that no spreadsheet runs as a formula, and JSON Lines to the digit."""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from app.storage.audit.chain import Link

# A cell that begins with one of these is run by some spreadsheets.
RUN: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
QUOTE: Final = "'"
COLUMNS: Final = tuple(Link.__dataclass_fields__)
TIME: Final = "at"
NUMBER: Final = "seq"
DOCUMENTS: Final = ("before", "after")


def cell(value: object) -> str:
    """One cell as text; what a spreadsheet would run begins with a quote mark."""
    text = "" if value is None else str(value)
    return QUOTE + text if text.lstrip(" ").startswith(RUN) else text


def csv_lines(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[str]:
    """A header row and the rows, line by line."""
    yield _line(columns)
    for row in rows:
        yield _line([value if isinstance(value, int) else cell(value) for value in row])


def _line(values: Iterable[object]) -> str:
    text = io.StringIO(newline="")
    csv.writer(text).writerow(values)
    return text.getvalue()


def acts_csv(acts: Iterable[Link]) -> Iterator[str]:
    """Acts as CSV; a mark put before a cell is no part of what was hashed."""
    return csv_lines(
        COLUMNS,
        (
            [act.at.isoformat() if name == TIME else getattr(act, name) for name in COLUMNS]
            for act in acts
        ),
    )


def acts_json_lines(acts: Iterable[Link]) -> Iterator[str]:
    """Acts as one JSON object a line, every value as it was hashed."""
    for act in acts:
        row = {name: getattr(act, name) for name in COLUMNS if name not in (TIME, *DOCUMENTS)}
        documents = {name: _document(getattr(act, name)) for name in DOCUMENTS}
        whole = {**row, TIME: act.at.isoformat(), **documents}
        yield json.dumps(whole, ensure_ascii=False, sort_keys=True) + "\n"


def _document(text: str | None) -> object:
    """A document as JSON; text that was edited into no JSON stays the text it is."""
    try:
        return None if text is None else json.loads(text)
    except ValueError:
        return text
