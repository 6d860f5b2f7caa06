"""What was typed is kept as typed, and an entry fills the form whole."""

from types import SimpleNamespace
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.differences import differences
from app.catalogue.document import document_of
from app.web.fluids.edit.reading import read_typed
from app.web.fluids.edit.typed import Typed, numbers_typed, rows_of, sent_form, typed_from
from tests.aside import run


def sent(**fields: object) -> Typed:
    named = {name.replace("__", "."): value for name, value in fields.items()}

    class Sent(dict[str, Any]):
        async def __aenter__(self) -> "Sent":
            return self

        async def __aexit__(self, *_: object) -> None:
            return None

    request: Any = SimpleNamespace(form=lambda: Sent(named))
    return run(sent_form, request)


def test_every_entry_of_the_catalogue_comes_back_as_it_was(catalogue: Catalogue) -> None:
    for one in catalogue:
        document = document_of(one)
        read = read_typed(typed_from(document), one.id)
        assert read.faults == {}
        assert differences(document, read.document) == ()
        assert read.fluid == one


def test_only_names_of_the_form_are_taken() -> None:
    typed = sent(name="a", colour="red", source__0__work="label", source__0__colour="red")
    assert typed == {"name": "a", "source.0.work": "label"}


@pytest.mark.parametrize("place", ["99999", "-1", "x", "²", "1e3"])
def test_a_source_in_no_place_is_none(place: str) -> None:
    assert sent(**{f"source__{place}__work": "label"}) == {}


def test_a_book_is_cut_and_a_file_is_no_text() -> None:
    typed = sent(name="x" * 5000, note=object())
    assert len(typed["name"]) == 600
    assert typed["note"] == ""


def test_there_is_always_a_source_to_fill_in() -> None:
    assert rows_of({}) == 1
    assert rows_of({"source.2.work": "label"}) == 3


def test_figures_are_those_that_are_not_blank() -> None:
    typed = {"composition_mmol_l.sodium": " 130 ", "ph.low": "  ", "name": "4"}
    assert list(numbers_typed(typed)) == [("composition_mmol_l.sodium", "130")]


@pytest.mark.parametrize("place", ["0" * 3 + "9" * 5000, "9" * 5000, "²"])
def test_a_place_that_is_none_is_no_row(place: str) -> None:
    typed = sent(**{f"source__{place}__work": "label", "source__1__work": "label"})
    assert rows_of(typed) == 2
    assert not any(place in name for name in typed)
