"""Facts and notes with every field."""

from datetime import date

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.local_note import Withdrawal
from app.catalogue.source import Source
from app.web.pairs.facts import fact_view, note_view
from tests.unit.review.pairs.conftest import SIGNED_AT, TODAY, signed


def test_every_field_is_shown_or_named_as_not_told(catalogue: Catalogue) -> None:
    fact = PairFact(
        "esmolol", "dextrose-5", "may run together", Source("esmolol label", seen=True),
        contact="same bag", strength="esmolol 10 mg/mL", hours=24, how_seen="label statement",
    )  # fmt: skip
    view = fact_view(fact, catalogue, counts=True)
    assert view.counts
    assert view.sentence == "Esmolol and 5% dextrose (US) may run together."
    assert view.source == "Esmolol label (seen)"
    assert dict(view.rows) == {
        "How they met": "In one bag", "Strength": "Esmolol 10 mg/mL", "For how long": "24 h",
        "How it was seen": "Label statement", "For whom": "Everyone",
    }  # fmt: skip
    assert view.untold == "made up in, condition"


def test_a_note_that_counts_has_not_ended() -> None:
    view = note_view(signed("x", "y"), TODAY)
    assert (view.counts, view.ended, view.may_be_taken_back) == (True, "", True)
    assert view.signed == "R. Almeida, pharmacist, 1 March 2031"
    assert view.review == "1 September 2031"


def test_a_note_past_its_day_says_so_and_can_still_be_taken_back() -> None:
    view = note_view(signed("x", "y"), date(2031, 9, 2))
    assert not view.counts
    assert view.ended == "Past its review date, 1 September 2031: it no longer counts."
    assert view.may_be_taken_back


def test_a_note_taken_back_says_who_when_and_why() -> None:
    taken = Withdrawal("J. Pires", "pharmacist", SIGNED_AT, "new maker")
    view = note_view(signed("x", "y", withdrawn=taken), TODAY)
    assert view.ended == "Taken back by J. Pires, pharmacist, on 1 March 2031: new maker"
    assert not view.may_be_taken_back
