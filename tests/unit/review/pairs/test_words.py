"""Facts and answers as a nurse would read them aloud."""

from datetime import date

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.fact import PairFact
from app.catalogue.source import Source
from app.review.pairs.told import told_of
from app.review.pairs.words import (
    day_words,
    fact_sentence,
    headline,
    line_of,
    seen_sentence,
    source_words,
    time_words,
    word_of,
)
from tests.unit.review.pairs.conftest import ThingOf, signed, with_notes

LABEL = Source("ceftriaxone label", seen=True)


def test_a_word_of_a_fact_is_said_as_people_say_it(catalogue: Catalogue) -> None:
    assert word_of("lactated-ringers", catalogue) == "lactated Ringer's (US)"
    assert word_of("calcium", catalogue) == "anything that holds calcium"
    assert word_of("amphotericin_b", catalogue) == "amphotericin B"
    assert word_of("sodium_bicarbonate", catalogue) == "sodium bicarbonate"


@pytest.mark.parametrize(
    ("fact", "sentence"),
    [
        (
            PairFact("x", "y", "keep apart", LABEL, "flush between", "they precipitate"),
            "Keep x and y apart: they precipitate. Flush between.",
        ),
        (PairFact("x", "y", "keep apart", LABEL), "Keep x and y apart."),
        (
            PairFact("x", "y", "in turn", LABEL, "flush between"),
            "X and y only one after the other: flush between.",
        ),
        (
            PairFact("x", "y", "only if", LABEL, "it is cold", "it decays"),
            "X and y may run together only if it is cold. It decays.",
        ),
        (
            PairFact("x", "y", "only if", LABEL),
            "X and y may run together only if the pharmacist confirms it.",
        ),
        (
            PairFact("x", "y", "may run together", LABEL, "as its diluent"),
            "X and y may run together: as its diluent.",
        ),
        (
            PairFact("x", "y", "no data", LABEL, "ask the blood bank"),
            "Of x and y together nobody knows: ask the blood bank.",
        ),
    ],
)
def test_a_fact_is_a_sentence(catalogue: Catalogue, fact: PairFact, sentence: str) -> None:
    assert fact_sentence(fact, catalogue) == sentence


def test_how_it_was_seen_is_what_strength_in_what_and_for_how_long() -> None:
    told = PairFact(
        "x", "y", "may run together", LABEL, contact="Y-site", strength="x 10 mg/mL",
        vehicle="5% dextrose", hours=24, how_seen="bench study",
    )  # fmt: skip
    assert seen_sentence(told) == "By Y-site, x 10 mg/mL, in 5% dextrose, for 24 h: bench study."
    untold = PairFact("x", "y", "may run together", LABEL)
    assert seen_sentence(untold) == "How it was seen is not told."


def test_a_source_says_whether_it_was_seen() -> None:
    assert source_words(PairFact("x", "y", "keep apart", LABEL)) == "ceftriaxone label (seen)"
    memory = Source("label", note="the pH was seen")
    assert source_words(PairFact("x", "y", "keep apart", memory)) == (
        "label (from memory; the pH was seen)"
    )


@pytest.mark.parametrize(
    ("hours", "words"), [(0.5, "30 min"), (2, "2 h"), (24, "24 h"), (168, "7 days")]
)
def test_a_time_of_contact_is_said_in_its_own_unit(hours: float, words: str) -> None:
    assert time_words(hours) == words


def test_a_day_is_written_out() -> None:
    assert day_words(date(2031, 3, 4)) == "4 March 2031"


def said(book: PairBook, thing: ThingOf, one: str, other: str, **how: bool) -> str:
    told = told_of(book, thing(one), thing(other), **how)
    assert told is not None
    return headline(told.answer)


def test_every_answer_says_what_to_do_first(book: PairBook, thing: ThingOf) -> None:
    assert said(book, thing, "meropenem", "furosemide") == (
        "Nobody has told us of these two: keep them apart."
    )
    assert said(book, thing, "ceftriaxone", "LR").startswith("Only one after the other: stop,")
    assert said(book, thing, "ceftriaxone", "LR", newborn=True).startswith(
        "Not both to this patient at all: fatal crystals in lung and kidney. Even by another line"
    )
    assert said(book, thing, "milrinone", "furosemide") == (
        "Keep apart: a precipitate forms at once in the line."
    )
    assert said(book, thing, "red cells", "FFP") == (
        "May run together only if they are ABO compatible."
    )
    assert said(book, thing, "esmolol", "0.9% sodium chloride") == "May run together."
    assert said(book, thing, "LR", "LR") == "May run together: they are the same thing."


def test_a_permission_from_memory_asks_for_pharmacy(book: PairBook, thing: ThingOf) -> None:
    assert said(book, thing, "norepinephrine", "vasopressin") == (
        "Confirm with pharmacy first: by a source from memory they may run together."
    )
    assert said(book, thing, "LR", "5% dextrose") == (
        "Confirm with pharmacy first: by common practice, with no source, they may run together."
    )
    assert said(book, thing, "insulin", "saline").endswith("together. Prime the line first.")


def test_of_a_kind_it_is_said_that_some_may_harm(book: PairBook, thing: ThingOf) -> None:
    assert said(book, thing, "any vasoactive drug", "bicarb") == (
        "Nobody has told us of all of these: keep them apart. "
        "Of some of them harm may be known: ask about each by its name."
    )
    assert said(book, thing, "calcium", "blood").startswith("Keep apart: calcium overcomes")


def test_no_data_with_advice_gives_the_advice(book: PairBook, thing: ThingOf) -> None:
    assert said(book, thing, "red cells", "multiple-electrolytes-type-1-ph-5.5") == (
        "Nobody has told us of these two: keep them apart. Ask the transfusion service."
    )


def test_a_note_is_named_with_who_signed_it_and_when(book: PairBook, thing: ThingOf) -> None:
    noted = with_notes(book, signed("meropenem", "furosemide"))
    told = told_of(noted, thing("meropenem"), thing("furosemide"))
    assert told is not None
    assert line_of(told.answer.decisive).text == (
        "May run together (local note by R. Almeida, pharmacist, of 1 March 2031): "
        "by Y-site, usual strengths."
    )
