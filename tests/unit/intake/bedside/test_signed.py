"""Local notes that a request carries."""

from datetime import date
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from tests.conftest import NOW

NOTE = {
    "a": "norepinephrine", "b": "aminophylline", "text": "seen here", "conditions": "by Y-site",
    "by": "R. Almeida", "role": "pharmacist", "signed_at": "2031-03-01T09:00:00Z",
    "review_on": "2031-09-01",
}  # fmt: skip


def read(catalogue: Catalogue, vocabulary: Vocabulary, note: dict[str, Any]) -> Case:
    request = {"patient": {}, "local_notes": [note]}
    return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)


def test_a_note_is_read_whole_and_stands_as_on_the_day(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    notes = read(catalogue, vocabulary, NOTE).notes
    (note,) = notes
    assert (note.a, note.b, note.by, note.review_on) == (
        "norepinephrine", "aminophylline", "R. Almeida", date(2031, 9, 1),
    )  # fmt: skip
    assert notes.state(note) == "counts"
    late = read(catalogue, vocabulary, {**NOTE, "review_on": "2031-03-03"}).notes
    assert [late.state(one) for one in late] == ["past its review date"]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"by": ""}, "by"), ({"a": None}, "a"), ({"review_on": "soon"}, "review_on"),
        ({"review_on": None}, "review_on"), ({"signed_at": None}, "signed_at"),
        ({"role": 3}, "role"),
    ],
)  # fmt: skip
def test_a_note_that_is_not_whole_is_told_by_its_field(
    catalogue: Catalogue, vocabulary: Vocabulary, change: dict[str, Any], field: str
) -> None:
    with pytest.raises((InputError, InputErrors)) as told:
        read(catalogue, vocabulary, {**NOTE, **change})
    assert f"local_notes[0].{field}" in str(told.value)


def test_a_field_nobody_knows_is_asked_about(catalogue: Catalogue, vocabulary: Vocabulary) -> None:
    case = read(catalogue, vocabulary, {**NOTE, "expires": "never"})
    assert [question.field for question in case.questions] == ["local_notes[0].expires"]
