"""What is told of stock is read field by field, from a form or a file."""

from datetime import UTC, datetime
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.stock.reading import LONGEST_NOTE, state_from, stock_from
from app.catalogue.stock.stock import STATES, StockState

SINCE = datetime(2031, 3, 4, 5, 40, tzinfo=UTC)
OUT = {"fluid": "dextrose-5", "state": "out", "since": SINCE, "note": "lorry late", "by": "J.B."}


def fault(entry: dict[str, Any]) -> EntryError:
    with pytest.raises(EntryError) as told:
        state_from(entry, SINCE)
    return told.value


def test_a_state_with_its_reason_is_read() -> None:
    typed = {"state": "short", "note": "  six bags\r\nleft ", "by": "J.B."}
    assert state_from(typed, SINCE) == StockState("short", SINCE, "six bags left", "J.B.")


@pytest.mark.parametrize("state", ["on the ward", "in pharmacy", "not told"])
def test_what_can_be_had_needs_no_reason(state: str) -> None:
    assert state_from({"state": state}, SINCE).note == ""


@pytest.mark.parametrize("state", ["short", "out", "withdrawn"])
def test_what_is_lacking_needs_a_reason(state: str) -> None:
    told = fault({"state": state, "note": "  "})
    assert told.field == "note"
    assert state in told.accepted


@pytest.mark.parametrize("state", [None, "", "gone", "OUT", 3])
def test_another_word_is_refused_with_the_words_that_are_accepted(state: object) -> None:
    told = fault({"state": state})
    assert (told.field, told.value) == ("state", state)
    assert told.accepted == ", ".join(STATES)


@pytest.mark.parametrize("note", ["x" * (LONGEST_NOTE + 1), 3, "bell \x07"])
def test_a_reason_is_a_short_plain_text(note: object) -> None:
    assert fault({"state": "out", "note": note}).field == "note"
    assert fault({"state": "out", "note": "late", "by": note}).field == "by"


def test_a_file_tells_of_each_fluid(catalogue: Catalogue) -> None:
    read = stock_from({"told": [OUT, {**OUT, "fluid": "dextrose-10"}]}, catalogue)
    assert set(read) == {"dextrose-5", "dextrose-10"}
    assert read["dextrose-5"] == StockState("out", SINCE, "lorry late", "J.B.")
    assert stock_from({}, catalogue) == {}


@pytest.mark.parametrize(
    ("file", "field"),
    [
        ({"fluids": []}, "fluids"),
        ({"told": [{**OUT, "bags": 3}]}, "told[0].bags"),
        ({"told": [{**OUT, "fluid": "moon-water"}]}, "told[0].fluid"),
        ({"told": [OUT, OUT]}, "told[1].fluid"),
        ({"told": [OUT, {**OUT, "fluid": "dextrose-10", "state": "lost"}]}, "told[1].state"),
        ({"told": [{**OUT, "since": "today"}]}, "told[0].since"),
        ({"told": [{**OUT, "since": SINCE.replace(tzinfo=None)}]}, "told[0].since"),
    ],
)
def test_a_faulty_file_is_told_by_entry_and_field(
    catalogue: Catalogue, file: dict[str, Any], field: str
) -> None:
    with pytest.raises(EntryError) as told:
        stock_from(file, catalogue)
    assert told.value.field == field
