"""A signed note: what it must say, and how long it counts."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from app.catalogue.entry import EntryError
from app.catalogue.pairs.local_note import (
    LONGEST_DAYS,
    LONGEST_TEXT,
    LocalNote,
    Withdrawal,
    note_from,
    notes_on,
    withdrawal_from,
)
from app.catalogue.pairs.substance import drug_substance

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
TODAY = NOW.date()
PAIR = ("meropenem", "furosemide")
TYPED = {
    "text": "our laboratory saw no change in 4 h",
    "conditions": "meropenem 20 mg/mL, furosemide 2 mg/mL, in saline, by Y-site",
    "by": "R. Almeida",
    "role": "pharmacist",
    "review_on": "2031-09-01",
}
MEROPENEM, FUROSEMIDE = drug_substance("meropenem"), drug_substance("furosemide")


def signed(number: int = 1, **changes: Any) -> LocalNote:  # noqa: ANN401
    entry = {**TYPED, **changes}
    note = note_from(entry, PAIR, NOW)
    return LocalNote(
        note.a, note.b, note.text, note.conditions, note.by, note.role, note.signed_at,
        note.review_on, number,
    )  # fmt: skip


def fault(**changes: Any) -> EntryError:  # noqa: ANN401
    with pytest.raises(EntryError) as told:
        note_from({**TYPED, **changes}, PAIR, NOW)
    return told.value


def test_a_note_is_kept_as_signed() -> None:
    note = note_from({**TYPED, "text": " seen \n in our laboratory "}, PAIR, NOW)
    assert note.text == "seen in our laboratory"
    assert (note.a, note.b, note.by, note.role) == (*PAIR, "R. Almeida", "pharmacist")
    assert (note.signed_at, note.review_on) == (NOW, date(2031, 9, 1))


@pytest.mark.parametrize("field", ["text", "conditions", "by", "role", "review_on"])
@pytest.mark.parametrize("empty", ["", "   ", None, 3])
def test_nothing_of_a_note_may_be_left_out(field: str, empty: object) -> None:
    assert fault(**{field: empty}).field == field


@pytest.mark.parametrize("field", ["text", "conditions", "by", "role"])
@pytest.mark.parametrize("text", ["x" * (LONGEST_TEXT + 1), "a\x00b"])
def test_a_text_too_long_or_not_readable_is_refused(field: str, text: str) -> None:
    assert fault(**{field: text}).field == field


@pytest.mark.parametrize(
    "day",
    [
        "2031-03-04", "2030-09-01", "soon", "2031-02-30",
        (TODAY + timedelta(days=LONGEST_DAYS + 1)).isoformat(),
    ],
)  # fmt: skip
def test_the_review_day_comes_after_today_and_within_a_year(day: str) -> None:
    assert fault(review_on=day).field == "review_on"
    last = (TODAY + timedelta(days=LONGEST_DAYS)).isoformat()
    assert note_from({**TYPED, "review_on": last}, PAIR, NOW).review_on.isoformat() == last


def test_a_note_counts_to_its_review_day_and_no_longer() -> None:
    note = signed()
    assert note.state(date(2031, 9, 1)) == "counts"
    assert note.state(date(2031, 9, 2)) == "past its review date"


def test_a_note_taken_back_counts_no_more_and_says_who_took_it_back() -> None:
    taken = withdrawal_from({"by": "J. Pires", "role": "pharmacist", "reason": "new maker"}, NOW)
    note = LocalNote(*PAIR, "t", "c", "R.A.", "pharmacist", NOW, date(2031, 9, 1), 1, taken)
    assert note.state(TODAY) == "withdrawn"
    assert taken == Withdrawal("J. Pires", "pharmacist", NOW, "new maker")
    with pytest.raises(EntryError, match="reason"):
        withdrawal_from({"by": "J. Pires", "role": "pharmacist", "reason": ""}, NOW)


def test_a_note_is_about_its_two_things_whichever_comes_first() -> None:
    note = signed()
    assert note.is_about(MEROPENEM, FUROSEMIDE)
    assert note.is_about(FUROSEMIDE, MEROPENEM)
    assert not note.is_about(MEROPENEM, drug_substance("vancomycin"))
    assert not note.is_about(MEROPENEM, MEROPENEM)


def test_the_newest_note_that_counts_is_the_one_that_counts() -> None:
    old, new = signed(1), signed(2, review_on="2031-04-01")
    assert notes_on([old, new], TODAY).counting(MEROPENEM, FUROSEMIDE) is new
    assert notes_on([old, new], date(2031, 5, 1)).counting(FUROSEMIDE, MEROPENEM) is old
    after = notes_on([old, new], date(2032, 1, 1))
    assert after.counting(MEROPENEM, FUROSEMIDE) is None
    assert after.about(MEROPENEM, FUROSEMIDE) == (new, old)
    assert {after.state(note) for note in after} == {"past its review date"}
