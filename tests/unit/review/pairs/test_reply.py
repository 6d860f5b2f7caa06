"""The answer about two things as JSON."""

from typing import Any

from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.local_note import Withdrawal
from app.review.pairs.reply import reply_of
from app.review.pairs.told import told_of
from tests.unit.review.pairs.conftest import SIGNED_AT, ThingOf, signed, with_notes


def reply(book: PairBook, thing: ThingOf, one: str, other: str) -> dict[str, Any]:
    told = told_of(book, thing(one), thing(other))
    assert told is not None
    return reply_of(told, book)


def test_every_field_of_a_fact_is_there_and_what_was_not_told_is_null(
    book: PairBook, thing: ThingOf
) -> None:
    (part,) = reply(book, thing, "esmolol", "potassium chloride")["parts"]
    (fact,) = part["facts"]
    assert fact == {
        "a": "esmolol", "b": "potassium_chloride", "verdict": "may run together", "counts": True,
        "contact": "same bag", "strength": "esmolol 10 mg/mL, potassium chloride 40 mmol/L",
        "vehicle": "5% dextrose", "hours": 24, "condition": None, "mechanism": None,
        "how_seen": "label statement", "population": "all", "scope": "lumen",
        "source": {
            "work": "esmolol label", "seen": True, "note": "seen only as quoted elsewhere",
        },
    }  # fmt: skip


def test_sources_that_differ_are_both_there_and_one_counts(book: PairBook, thing: ThingOf) -> None:
    (part,) = reply(book, thing, "insulin", "norepinephrine")["parts"]
    assert [(f["verdict"], f["counts"]) for f in part["facts"]] == [
        ("keep apart", True), ("may run together", False),
    ]  # fmt: skip


def test_no_data_keeps_apart_and_has_no_fact(book: PairBook, thing: ThingOf) -> None:
    told = reply(book, thing, "meropenem", "furosemide")
    assert (told["verdict"], told["keep_apart"], told["newborn"]) == ("no data", True, None)
    assert told["parts"][0]["facts"] == []


def test_a_permission_from_memory_says_so_to_machines_too(book: PairBook, thing: ThingOf) -> None:
    asked = [("norepinephrine", "vasopressin"), ("LR", "saline"), ("esmolol", "saline")]
    told = [reply(book, thing, *pair) for pair in asked]
    assert [each["confirm_with_pharmacy"] for each in told] == [True, True, False]
    assert not any(each["keep_apart"] for each in told)
    assert not reply(book, thing, "meropenem", "furosemide")["confirm_with_pharmacy"]


def test_what_differs_in_a_newborn_is_told(book: PairBook, thing: ThingOf) -> None:
    told = reply(book, thing, "CTX", "ringers")
    assert (told["verdict"], told["scope"]) == ("in turn", "lumen")
    assert (told["newborn"]["verdict"], told["newborn"]["scope"]) == ("keep apart", "patient")
    assert told["a"]["id"] == "ceftriaxone"
    assert "assumed" in told["a"]["ask"]
    assert len(told["b"]["may_mean"]) > 2


def test_a_note_is_told_with_whether_it_counts(book: PairBook, thing: ThingOf) -> None:
    taken = Withdrawal("J.P.", "pharmacist", SIGNED_AT, "new maker")
    noted = with_notes(
        book, signed("meropenem", "furosemide"), signed("meropenem", "furosemide", withdrawn=taken)
    )
    told = reply(noted, thing, "meropenem", "furosemide")
    assert (told["verdict"], told["keep_apart"]) == ("may run together", False)
    states = {note["state"]: note for note in told["parts"][0]["notes"]}
    assert states["counts"]["counts"]
    assert not states["withdrawn"]["counts"]
    assert states["withdrawn"]["withdrawn"]["reason"] == "new maker"
    assert states["counts"]["review_on"] == "2031-09-01"
