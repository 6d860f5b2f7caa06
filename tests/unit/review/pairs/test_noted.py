"""What signed notes say of what runs in a patient."""

from datetime import date

from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.local_note import Withdrawal
from app.review.pairs.noted import notes_in
from app.review.pairs.noted import with_notes as with_notes_sent
from tests.unit.review.pairs.conftest import SIGNED_AT, CaseOf, signed, with_notes

BESIDE = (
    {"name": "midazolam infusion 2 mg/h", "kind": "drug"},
    {"name": "meropenem 1 g over 30 min tds", "kind": "drug"},
)
NOTE = signed("midazolam", "meropenem")


def test_a_note_that_counts_is_told_with_its_conditions(case_of: CaseOf, book: PairBook) -> None:
    (line,) = notes_in(case_of(beside=BESIDE), with_notes(book, NOTE))
    assert line == (
        "Midazolam with meropenem: may run together (local note by R. Almeida, pharmacist, of "
        "1 March 2031): by Y-site, usual strengths."
    )


def test_a_note_past_its_date_or_taken_back_says_so(case_of: CaseOf, book: PairBook) -> None:
    case = case_of(beside=BESIDE)
    (late,) = notes_in(case, with_notes(book, NOTE, on=date(2031, 9, 2)))
    assert late.endswith("is past its review date, 1 September 2031.")
    taken = signed(
        "midazolam", "meropenem", withdrawn=Withdrawal("J.P.", "pharmacist", SIGNED_AT, "why")
    )
    (back,) = notes_in(case, with_notes(book, taken))
    assert back.endswith("was taken back.")


def test_with_no_note_nothing_is_said(case_of: CaseOf, book: PairBook) -> None:
    assert notes_in(case_of(beside=BESIDE), book) == ()
    assert notes_in(case_of(), with_notes(book, NOTE)) == ()


def test_a_request_is_sent_with_the_notes_that_count_for_what_runs(
    case_of: CaseOf, book: PairBook
) -> None:
    request, case = {"patient": {}}, case_of(beside=BESIDE)
    other = signed("ketamine", "pantoprazole")
    sent = with_notes_sent(request, case, with_notes(book, NOTE, other))
    (note,) = sent["local_notes"]
    assert (note["a"], note["b"], note["by"]) == ("midazolam", "meropenem", "R. Almeida")
    assert (note["signed_at"], note["review_on"]) == (SIGNED_AT.isoformat(), "2031-09-01")
    assert with_notes_sent(request, case, with_notes(book, other)) is request
    late = with_notes(book, NOTE, on=date(2031, 9, 2))
    assert with_notes_sent(request, case, late) is request
