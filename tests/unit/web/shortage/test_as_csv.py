"""The plan as CSV, which a spreadsheet never takes for a formula."""

import csv
import io
from dataclasses import replace

import pytest

from app.web.shortage.as_csv import COLUMNS, NOTHING_NEW, as_csv, changes_text
from app.web.shortage.rows import ChangeRow, DrugRow, OfferRow, OrderRow
from app.web.shortage.totals import LostRow, SavingRow, TurnedRow
from app.web.shortage.view import Result

OFFER = OfferRow("r", "Ringer's", "1,000 mL bag", "85.5", "", "on the ward", (), (), (), "")
ORDER = OrderRow("3", "A.B., 5 y", "/patients/x", "saline, 1,000 mL", "1 L a day", "", (), (),
                 (OFFER,), (), (), "")  # fmt: skip
LOST = LostRow("s", "saline", "", "9 L", "9 of 1,000 mL", "54", "6 days", "", "", "")
TURNED = TurnedRow("r", "Ringer's", "1 order", "1 L", "", "", "", "none", "2 days", "", True)
RESULT = Result(
    title="saline", share="all deliveries", starts="07:05", days=7, lost=(LOST,), orders=(ORDER,),
    over=(), unclear=(), drugs=(DrugRow("4", "", "", "Ceftriaxone", "in saline, 100 mL a day"),),
    turned=(TURNED,), savings=(SavingRow("Spike late.", "common practice, no source", ""),),
    together=(), summary="", plan="", file="", asked=(),
)  # fmt: skip


def rows(result: Result) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(as_csv(result, "Caution.", "Tue 4 Mar 2031"))))


def test_it_begins_with_what_is_lost_when_it_was_made_and_the_caution() -> None:
    first = rows(RESULT)[0]
    assert first["what"] == "saline: all deliveries, from 07:05"
    assert first["ask_or_note"] == "Made Tue 4 Mar 2031. Caution."


def test_every_row_has_every_column() -> None:
    assert [row["part"] for row in rows(RESULT)] == [
        "plan", "lost", "order", "drug", "substitute", "saving",
    ]  # fmt: skip
    assert all(set(row) == set(COLUMNS) for row in rows(RESULT))


def test_an_order_without_new_cautions_says_so_and_never_that_it_is_safe() -> None:
    row = rows(RESULT)[2]
    assert (row["turn_to"], row["distance"], row["new_cautions"]) == (
        "Ringer's", "85.5", NOTHING_NEW,
    )  # fmt: skip
    assert "safe" not in as_csv(RESULT, "", "")


def test_an_order_without_a_substitute_has_its_reason_in_place() -> None:
    none = replace(ORDER, offers=(), none="Pharmacist and prescriber decide.")
    row = rows(replace(RESULT, orders=(none,)))[2]
    assert row["turn_to"] == ""
    assert row["ask_or_note"] == "Pharmacist and prescriber decide."


def test_a_second_shortage_is_noted() -> None:
    assert rows(RESULT)[4]["ask_or_note"] == "runs out within 7 days"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", " =", "\n=", "＝"])
def test_no_cell_begins_a_formula(start: str) -> None:
    row = rows(replace(RESULT, orders=(replace(ORDER, words=f"{start}HYPERLINK(1)"),)))[2]
    assert row["what"] == f"'{start}HYPERLINK(1)"


def test_findings_are_one_cell() -> None:
    changes = (ChangeRow("a", "critical", "One.", ""), ChangeRow("b", "info", "Two.", ""))
    assert changes_text(changes) == "critical: One.; info: Two."
