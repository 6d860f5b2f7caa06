"""The form as the page shows it."""

from app.catalogue.changes.history import History
from app.review.knowledge import Past, shipped
from app.web.fluids.edit.fields import SINGLE, TERMS
from app.web.fluids.edit.late import Other
from app.web.fluids.edit.live import live_of
from app.web.fluids.edit.reading import read_typed
from app.web.fluids.edit.view import Around, EditPage, Said, Target, Writing, edit_page
from tests.unit.web.fluids.edit.conftest import NOW, Form

AROUND = Around(Past((), History(), shipped()), shipped(), NOW)
BEFORE = "2026-01-01T00:00:00+00:00"


def page(typed: Form, said: Said | None = None, key: str = "") -> EditPage:
    live = live_of(read_typed(typed, key or "new"), None)
    return edit_page(Writing(Target(key, None), typed, AROUND), live, said or Said())


def test_every_field_of_an_entry_stands_on_the_page_and_has_a_place_for_its_message(
    entry: Form,
) -> None:
    told = set(page(entry).slots)
    assert set(SINGLE) - set(TERMS) - told == {"composition_mmol_l.not_labelled"}


def test_one_more_source_is_one_more_row() -> None:
    assert len(page({}).sources) == 1
    assert len(page({"source.0.work": "a", "do": "more-source"}).sources) == 2


def test_a_draft_begins_when_its_form_was_opened() -> None:
    assert page({}).based_on == NOW.isoformat()
    assert page({"based_on": BEFORE}).based_on == BEFORE


def test_it_begins_anew_once_it_was_told_what_others_did() -> None:
    other = Other("Drafted by J. Birch", 7, "", gone=False, choices=())
    assert page({"based_on": BEFORE}, Said(others=(other,))).based_on == NOW.isoformat()


def test_a_review_in_a_year_is_proposed_and_what_is_typed_goes_before() -> None:
    assert page({}).typed["review_on"] > NOW.date().isoformat()
    assert page({"review_on": "2026-12-01"}).typed["review_on"] == "2026-12-01"


def test_where_it_is_sent() -> None:
    assert page({}).target.action == "/catalogue/new"
    assert page({}, key="some-fluid").target.action == "/catalogue/some-fluid/edit"
