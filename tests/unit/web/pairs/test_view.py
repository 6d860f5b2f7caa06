"""Everything the page on pairs may use."""

from datetime import date

import pytest

from app.catalogue.entry import EntryError
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.local_note import notes_on
from app.review.knowledge import Knowledge
from app.web.pairs.view import NoteForm, PairsPage, note_fault, pairs_page
from tests.unit.review.pairs.conftest import TODAY, signed


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


def page(knowledge: Knowledge, *words: str, on: date = TODAY, noted: bool = False) -> PairsPage:
    notes = [signed("meropenem", "furosemide")] if noted else []
    return pairs_page(words, knowledge, PairBook(knowledge.pairs, notes_on(notes, on)))


def test_two_things_are_unfolded_and_may_be_signed_for(knowledge: Knowledge) -> None:
    view = page(knowledge, "meropenem", "furosemide")
    (pair,) = view.pairs
    assert (pair.sign, pair.alone, view.unfolded, view.counts) == ("gap", "", True, "")
    assert pair.line.lead == "Nobody has told us of these two: keep them apart."
    assert pair.parts[0].may_sign == ("meropenem", "furosemide")
    assert pair.parts[0].why == ""


def test_several_are_counted_folded_and_lead_to_the_two_by_themselves(
    knowledge: Knowledge,
) -> None:
    view = page(knowledge, "CTX", "LR", "saline")
    assert view.counts == (
        "3 pairs: 1 only in turn, 2 may run together. Of these confirm 1 with pharmacy first."
    )
    assert [pair.sign for pair in view.pairs] == ["turn", "unseen", "may"]
    assert not view.unfolded
    assert view.pairs[0].alone == "/co-infusion?thing=CTX&thing=LR"
    assert view.pairs[0].newborn.startswith("Not both at all: fatal crystals")
    assert view.pairs[1].newborn == ""


def test_where_sources_differ_both_stand_and_one_is_marked(knowledge: Knowledge) -> None:
    (pair,) = page(knowledge, "insulin", "norepinephrine").pairs
    facts = pair.parts[0].facts
    assert [fact.counts for fact in facts] == [True, False]
    assert len({fact.source for fact in facts}) == 2
    assert pair.parts[0].may_sign is None


def test_a_bag_is_told_part_by_part_with_each_part_named(knowledge: Knowledge) -> None:
    (pair,) = page(knowledge, "5% dextrose + KCl 20 mmol/L", "levosimendan").pairs
    assert [part.title for part in pair.parts] == [
        "5% dextrose (US) with levosimendan", "Potassium chloride with levosimendan",
    ]  # fmt: skip
    assert all(part.may_sign for part in pair.parts)


def test_no_note_is_signed_for_whatever_holds_calcium(knowledge: Knowledge) -> None:
    (pair,) = page(knowledge, "calcium", "meropenem").pairs
    assert pair.sign == "gap"
    assert pair.parts[0].may_sign is None


def test_one_thing_alone_tells_all_that_is_known(knowledge: Knowledge) -> None:
    view = page(knowledge, "amiodarone")
    assert view.known is not None
    assert view.pairs == ()
    assert page(knowledge).known is None


def test_an_ambiguous_name_says_that_the_strictest_was_taken(knowledge: Knowledge) -> None:
    (pair,) = page(knowledge, "ringers", "propofol").pairs
    assert pair.ambiguous == "“ringers” may mean several things: this is the strictest answer."
    assert page(knowledge, "LR", "propofol").pairs[0].ambiguous == ""


def test_a_note_stands_with_the_pair_and_lapses(knowledge: Knowledge) -> None:
    (pair,) = page(knowledge, "meropenem", "furosemide", noted=True).pairs
    assert (pair.sign, pair.parts[0].may_sign) == ("may", None)
    assert pair.parts[0].notes[0].counts
    late = page(knowledge, "meropenem", "furosemide", noted=True, on=date(2031, 9, 2)).pairs[0]
    assert (late.sign, late.parts[0].may_sign) == ("gap", ("meropenem", "furosemide"))
    assert late.parts[0].notes[0].ended


def test_a_fault_stands_beside_its_field_of_its_form_and_nowhere_else() -> None:
    form = note_fault("7", {"text": "J.P."}, EntryError("reason", "", "why it no longer holds"))
    assert form.value("7", "text") == "J.P."
    assert form.value("sign-a-b", "text") == ""
    assert form.error("7", "reason") == (
        "Why it no longer holds: nothing is written. Accepted: why it no longer holds."
    )
    assert form.error("7", "text") == form.error("8", "reason") == ""
    assert NoteForm().error("", "reason") == ""
    wrong = note_fault("7", {}, EntryError("text", "x" * 70, "a text of at most 60 letters"))
    assert "is not accepted" in wrong.error("7", "text")
