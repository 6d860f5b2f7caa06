"""The plain CSV of orders: text in, one request for each patient out, every unread row told.

UTF-8 with a header row; comma or semicolon found by itself; a decimal comma only with
semicolons; column names in any order, case, space or underscore. One bad row never stops the
file.
"""

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, tzinfo
from typing import Any, Final

from app.intake.errors import InputError
from app.intake.rates import NOTHING, RATE, VOLUME, flow_of_words
from app.intake.request import Span, read_number

NEEDED: Final = ("patient_no", "fluid", "rate", "rate_unit", "start")
ADDITIVE_PLACES: Final = range(1, 7)
KNOWN: Final = (
    *NEEDED,
    *("bed", "order_no", "status", "bag_volume_ml", "route", "line", "stop"),
    *("ordered_by", "ordered_at", "note"),
    *(f"additive_{n}{part}" for n in ADDITIVE_PLACES for part in ("", "_amount", "_unit")),
)
TIME_FORMATS: Final = ("%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M:%S")
TIME_ACCEPTED: Final = "a date and time such as 2031-03-04 09:10"
RUNNING: Final = frozenset(["", "active", "running", "draft", "new"])
# Told to the reviewer, and counted as nothing.
HELD: Final = frozenset(["on-hold", "on hold", "paused", "held", "suspended"])
NOT_RUNNING: Final = frozenset(
    [
        "stopped",
        "completed",
        "cancelled",
        "canceled",
        "finished",
        "entered-in-error",
        "discontinued",
    ]
)
INTRAVENOUS: Final = re.compile(r"^$|\biv\b|intraven|central|peripheral|venous", re.IGNORECASE)
ON_HOLD: Final = "on hold"
# "KVO", "8 hourly": a rate in words; "12o" is a figure gone wrong.
IN_WORDS: Final = re.compile(r"[a-z]{2,}", re.IGNORECASE)
AMOUNT: Final = Span(0, 100_000, "", above=True)
SECONDS_PER_HOUR: Final = 3600.0
BOM: Final = "\ufeff"


@dataclass(frozen=True, slots=True)
class RowProblem:
    """One cell that was not read: its row in the file, column, value, what is accepted."""

    row: int
    column: str
    value: str
    accepted: str

    def __str__(self) -> str:
        return f"Row {self.row}, {self.column}: {self.value!r} is not read; {self.accepted}"


@dataclass(frozen=True, slots=True)
class CsvOrders:
    """What a file holds.

    requests: by patient number. problems: rows not read. left_out: rows that are no running
    intravenous order. ignored_columns: columns nothing reads.
    """

    requests: Mapping[str, Mapping[str, Any]]
    problems: tuple[RowProblem, ...] = ()
    left_out: tuple[RowProblem, ...] = ()
    ignored_columns: tuple[str, ...] = ()


@dataclass(slots=True)
class _File:
    zone: tzinfo
    decimal_comma: bool
    requests: dict[str, dict[str, Any]] = field(default_factory=dict)
    problems: list[RowProblem] = field(default_factory=list)
    left_out: list[RowProblem] = field(default_factory=list)


class _BadCell(Exception):
    def __init__(self, column: str, value: str, accepted: str) -> None:
        super().__init__(column, value, accepted)
        self.column, self.value, self.accepted = column, value, accepted


def read_orders_csv(text: str, *, zone: tzinfo = UTC) -> CsvOrders:
    """Orders of a file. zone: that of the file's times, as the hospital has set it.

    Raises InputError when the file has no header row or lacks a column that is needed.
    """
    lines = text.lstrip(BOM)
    header = lines.split("\n", 1)[0]
    semicolon = header.count(";") > header.count(",")
    rows = _rows(lines, ";" if semicolon else ",")
    columns = _columns(next(rows, (1, []))[1])
    file = _File(zone, semicolon)
    for number, cells in rows:
        _read_row(number, dict(zip(columns, cells, strict=False)), file)
    ignored = tuple(column for column in columns if column not in KNOWN)
    return CsvOrders(file.requests, tuple(file.problems), tuple(file.left_out), ignored)


def _rows(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, [cell.strip() for cell in cells]
    except csv.Error as error:
        raise InputError(f"row {reader.line_num}", str(error), "a CSV file in UTF-8") from error


def _columns(header: list[str]) -> tuple[str, ...]:
    by_letters = {name.replace("_", ""): name for name in KNOWN}
    columns = tuple(by_letters.get(re.sub(r"[\s_]", "", c.lower()), c) for c in header)
    missing = [name for name in NEEDED if name not in columns]
    if missing:
        accepted = "a header row with at least " + ", ".join(NEEDED)
        raise InputError(missing[0], ", ".join(header) or "no header row", accepted)
    return columns


def _read_row(number: int, row: Mapping[str, str], file: _File) -> None:
    try:
        patient_no = row.get("patient_no", "")
        if not patient_no:
            raise _BadCell("patient_no", "", "a patient number")
        why_not = _left_out(row)
        if why_not:
            file.left_out.append(RowProblem(number, *why_not))
            return
        order = _order(number, row, file)
    except _BadCell as bad:
        file.problems.append(RowProblem(number, bad.column, bad.value, bad.accepted))
        return
    empty: dict[str, Any] = {"patient": {}, "orders": []}
    file.requests.setdefault(patient_no, empty)["orders"].append(order)


def _left_out(row: Mapping[str, str]) -> tuple[str, str, str] | None:
    """Column, value and reason of a row that is no running intravenous order."""
    status, route = row.get("status", ""), row.get("route", "")
    if status.lower() in NOT_RUNNING:
        return "status", status, "not running, so not reviewed"
    if status.lower() not in RUNNING | HELD:
        raise _BadCell("status", status, "active, on-hold, draft, stopped, completed or cancelled")
    if not INTRAVENOUS.search(route):
        return "route", route, "not intravenous, so not reviewed"
    return None


def _order(number: int, row: Mapping[str, str], file: _File) -> dict[str, Any]:
    if not row.get("fluid"):
        raise _BadCell("fluid", "", "the fluid's name")
    start, stop = _time(row, "start", file), _time(row, "stop", file)
    order: dict[str, Any] = {
        "id": row.get("order_no") or f"row {number}",
        "fluid": row["fluid"],
        "additives": list(_additives(row, file)),
        "volume_ml": _number(row, "bag_volume_ml", VOLUME, file),
        **_rate(row, file),
        "starts_at": start.isoformat() if start else None,
        "lumen": row.get("line") or None,
        "order_text": row.get("note") or None,
    }
    if start and stop:
        if stop <= start:
            raise _BadCell("stop", row["stop"], "a time after the start")
        order["duration_h"] = (stop - start).total_seconds() / SECONDS_PER_HOUR
    if row.get("status", "").lower() in HELD:
        order["rate_text"] = ON_HOLD
    return {name: value for name, value in order.items() if value not in (None, [])}


def _rate(row: Mapping[str, str], file: _File) -> dict[str, Any]:
    """The rate in mL/h where the unit is a plain one; else as words, with the number in them."""
    number, unit = row.get("rate", ""), row.get("rate_unit", "")
    if not number:
        return {}
    words = f"{number} {unit}".strip()
    if IN_WORDS.search(number) and flow_of_words(words, None) is not NOTHING:
        return {"rate_text": words}
    if not unit:
        raise _BadCell("rate_unit", "", "mL/h, mL/min, mL/kg/h, or the like")
    plain = _point(number, file)
    if read_number(plain, {}) is None:
        raise _BadCell("rate", number, "a number")
    factor = RATE.spellings.get(unit.lower().replace(" ", ""))
    if factor is None:
        return {"rate_text": f"{plain} {unit}"}
    rate = float(plain) * factor
    if not RATE.holds(rate):
        raise _BadCell("rate", number, RATE.accepted)
    return {"rate_ml_h": rate}


def _additives(row: Mapping[str, str], file: _File) -> Iterator[dict[str, Any]]:
    for place in ADDITIVE_PLACES:
        column = f"additive_{place}"
        if row.get(column):
            yield {
                "substance": row[column],
                "amount": _number(row, f"{column}_amount", AMOUNT, file),
                "unit": row.get(f"{column}_unit") or None,
            }


def _point(text: str, file: _File) -> str:
    return text.replace(",", ".") if file.decimal_comma else text


def _number(row: Mapping[str, str], column: str, span: Span, file: _File) -> float | None:
    text = row.get(column, "")
    if not text:
        return None
    number = read_number(_point(text, file), span.spellings)
    if number is None or not span.holds(number):
        raise _BadCell(column, text, span.accepted)
    return number


def _time(row: Mapping[str, str], column: str, file: _File) -> datetime | None:
    """A time of the file; a date turned round (03/02) is refused, never guessed."""
    text = row.get(column, "")
    if not text:
        return None
    for form in TIME_FORMATS:
        try:
            return datetime.strptime(text, form).replace(tzinfo=file.zone)
        except ValueError:
            continue
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        raise _BadCell(column, text, TIME_ACCEPTED) from None
    if read.tzinfo is None:
        raise _BadCell(column, text, TIME_ACCEPTED)
    return read
