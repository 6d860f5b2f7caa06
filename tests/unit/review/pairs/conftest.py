"""Things read from words, cases read from requests, and everything known of pairs."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.carriers import with_carriers
from app.catalogue.pairs.local_note import LocalNote, notes_on
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.fluids import NameBook, name_book
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.review.pairs.things import Thing, read_thing
from app.storage.seed_files import read_pair_facts
from tests.conftest import NOW

ThingOf = Callable[[str], Thing]
CaseOf = Callable[..., Case]
TODAY = date(2031, 3, 4)
SIGNED_AT = datetime(2031, 3, 1, 9, 0, tzinfo=UTC)


def signed(a: str, b: str, review_on: date = date(2031, 9, 1), **more: Any) -> LocalNote:  # noqa: ANN401
    """A note on two things."""
    told = ("seen in our laboratory", "by Y-site, usual strengths", "R. Almeida", "pharmacist")
    return LocalNote(a, b, *told, SIGNED_AT, review_on, number=1, **more)


def with_notes(book: PairBook, *notes: LocalNote, on: date = TODAY) -> PairBook:
    """The same facts with these notes."""
    return PairBook(book.facts, notes_on(notes, on))


@pytest.fixture(scope="session")
def book(vehicles: Vehicles) -> PairBook:
    """The facts as the app holds them, with no local note."""
    return PairBook(with_carriers(read_pair_facts(), vehicles))


@pytest.fixture(scope="session")
def names(catalogue: Catalogue, vocabulary: Vocabulary) -> NameBook:
    """Every name we know."""
    return name_book(catalogue, vocabulary)


@pytest.fixture(scope="session")
def thing(names: NameBook) -> ThingOf:
    """One thing by its words; its id is the words."""
    return lambda words: read_thing(words, words, names)


@pytest.fixture(scope="session")
def case_of(catalogue: Catalogue, vocabulary: Vocabulary) -> CaseOf:
    """case_of(*orders, beside=…, age_years=…, **patient): a case read from a request."""

    def read(
        *orders: dict[str, Any],
        beside: tuple[dict[str, Any], ...] = (),
        setting: str | None = "ICU",
        age_years: float | None = 60,
        **patient: Any,  # noqa: ANN401
    ) -> Case:
        request = {
            "setting": setting,
            "patient": {"age_years": age_years, "weight_kg": 70, **patient},
            "orders": [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)],
            "co_infusions": list(beside),
        }
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return read
