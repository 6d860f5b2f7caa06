"""Burden and marks as CSV. No cell can become a formula where a spreadsheet opens it."""

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Final

from app.review.replay.count import Count
from app.storage.samples.samples import Item
from app.web.audit.sheet import cell as guarded

FIGURES: Final = ("day", "setting", "shift", "rule", "level", "findings", "orders")
MARKS: Final = (
    "sample", "number", "rule", "level", "finding", "first", "first_reason", "second",
    "second_reason",
)  # fmt: skip
NO_RULE: Final = ""


def figures_csv(count: Count) -> str:
    """Every cell of a count; a place without findings is there with none."""
    places = {where: number for where, number in sorted(count.orders.items())}
    spoken = {cell[:3] for cell in count.found}
    rows = [
        (*cell, number, places.get(cell[:3], 0)) for cell, number in sorted(count.found.items())
    ]
    rows += [(*where, NO_RULE, "", 0, n) for where, n in places.items() if where not in spoken]
    return as_csv(FIGURES, sorted(rows))


def marks_csv(items: Iterable[tuple[int, Item]]) -> str:
    """What two people said of each finding, without who; what only one has said is left out."""
    rows = [
        (
            sample_id, item.number, item.rule_id, item.level, item.told.get("title", ""),
            *(text for mark in item.marks[:2] for text in (mark.verdict, mark.reason)),
        )
        for sample_id, item in items
        if item.is_marked
    ]  # fmt: skip
    return as_csv(MARKS, rows)


def as_csv(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows under a header."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(columns)
    writer.writerows([plain_cell(cell) for cell in row] for row in rows)
    return text.getvalue()


def plain_cell(cell: object) -> object:
    """A cell that is text wherever it is opened; numbers stay numbers."""
    return guarded(cell) if isinstance(cell, str) else cell
