"""The drug list: what is taken, what is not, and what is asked."""

import pytest

from app.intake.medicines.drug_list import (
    also_taken,
    asks_of,
    read_drug_list,
    read_medications,
)
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    "written",
    ["nil", "none known", "NKDA", "no regular meds", "takes no regular medication",
     "no nephrotoxics", "penicillin allergy", "hydrocortisone cream", "ibuprofen gel",
     "ramipril [stopped]"],
)  # fmt: skip
def test_nothing_taken_is_neither_found_nor_asked(vocabulary: Vocabulary, written: str) -> None:
    words = read_medications([written], vocabulary)
    assert (words.found, words.unread) == (frozenset(), ())


def test_a_note_on_a_drug_is_no_drug_nobody_knows(vocabulary: Vocabulary) -> None:
    words = read_medications(["bisoprolol (2 weeks), hold if HR<50", "moonlight"], vocabulary)
    assert "bisoprolol" in words and words.unread == ("moonlight",)


def test_only_what_is_denied_counts_as_denied(vocabulary: Vocabulary) -> None:
    words = read_medications(["not on metformin", "digoxin held"], vocabulary)
    assert words.denied == {"metformin"}


def test_a_class_that_leaves_open_which_drug_is_asked_about(vocabulary: Vocabulary) -> None:
    assert list(asks_of("diuretics", vocabulary))
    assert not list(asks_of("diuretics: furosemide", vocabulary))
    assert list(asks_of("on digoxin? patient unsure", vocabulary))
    reader = Reader({"medications": ["diuretics"]}, "patient", Problems())
    assert "diuretic" in read_drug_list(reader, vocabulary)
    assert reader.problems.questions[0].field == "patient.medications"


def test_what_is_written_elsewhere_counts_too(vocabulary: Vocabulary) -> None:
    words = read_medications(["no insulin"], vocabulary)
    more = also_taken(words, ["insulin glargine s/c"], vocabulary)
    assert "insulin" in more and not more.denied
    assert also_taken(words, [], vocabulary) is words
