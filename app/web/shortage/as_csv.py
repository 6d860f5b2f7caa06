"""A plan as CSV: a row for each order and drug, then one for each fluid."""

import csv
import io
from collections.abc import Iterable
from typing import Final

from app.web.audit.sheet import cell
from app.web.shortage.rows import ChangeRow, DrugRow, OrderRow
from app.web.shortage.view import Result

COLUMNS: Final = (
    "part", "bed", "what", "takes", "turn_to", "how", "distance", "where", "new_cautions",
    "cautions_gone", "not_assessed", "counted", "days_left", "ask_or_note",
)  # fmt: skip
NOTHING_NEW: Final = "nothing found that is new"


def as_csv(result: Result, caution: str, moment: str) -> str:
    """The whole plan with a header row, its moment and the usual caution."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    for cells in _rows(result, caution, moment):
        writer.writerow([cell(cells.get(name, "")) for name in COLUMNS])
    return text.getvalue()


def _rows(result: Result, caution: str, moment: str) -> Iterable[dict[str, str]]:
    lost = f"{result.title}: {result.share}, from {result.starts}"
    yield {"part": "plan", "what": lost, "ask_or_note": f"Made {moment}. {caution}"}
    for one in result.lost:
        yield {
            "part": "lost", "what": one.name, "takes": f"{one.ml_day} a day: {one.bags}",
            "counted": one.counted, "days_left": one.days, "ask_or_note": one.keep,
        }  # fmt: skip
    for part, orders in (
        ("order", result.orders),
        ("order, over before", result.over),
        ("order, name not settled", result.unclear),
    ):
        yield from (_order(part, row) for row in orders)
    yield from (_drug(row) for row in result.drugs)
    for two in result.turned:
        note = f"runs out within {result.days} days" if two.second else ""
        yield {
            "part": "substitute", "what": two.name, "takes": f"{two.ml_day} a day: {two.bags}",
            "counted": two.counted, "days_left": two.days, "ask_or_note": note,
        }  # fmt: skip
    for saving in result.savings:
        note = f"{saving.source}. {saving.here}".strip()
        yield {"part": "saving", "what": saving.words, "ask_or_note": note}


def _order(part: str, row: OrderRow) -> dict[str, str]:
    cells = {
        "part": part, "bed": row.bed, "what": row.words, "takes": row.takes,
        "ask_or_note": " ".join(filter(None, (row.none, *row.asks))),
    }  # fmt: skip
    first = row.first
    if first is None:
        return cells
    return cells | {
        "turn_to": first.name, "how": first.how, "distance": first.away, "where": first.place,
        "new_cautions": changes_text(first.new) or NOTHING_NEW,
        "cautions_gone": changes_text(first.gone), "not_assessed": first.missing,
    }  # fmt: skip


def _drug(row: DrugRow) -> dict[str, str]:
    ask = "the drug's label decides what else carries it: ask pharmacy"
    return {
        "part": "drug", "bed": row.bed, "what": row.words, "takes": row.takes, "ask_or_note": ask
    }  # fmt: skip


def changes_text(changes: Iterable[ChangeRow]) -> str:
    """Findings as one cell: "critical: …; info: …"."""
    return "; ".join(f"{one.level}: {one.words}" for one in changes)
