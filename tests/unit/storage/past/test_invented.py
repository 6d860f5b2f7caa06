"""The demo's past: invented, and the same on every machine."""

import json
from collections import Counter
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.storage.past.invented import invented_past
from app.storage.past.past import setting_of
from app.storage.past.plain import without_person
from app.storage.past.stories import read_stories

UNTIL = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
Made = list[tuple[datetime, dict[str, Any]]]


@pytest.fixture(scope="module")
def made() -> Made:
    return list(invented_past(read_stories(), UNTIL))


@pytest.fixture(scope="module")
def cases(made: Made, catalogue: Catalogue, vocabulary: Vocabulary) -> list[Case]:
    return [
        read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=at)
        for at, request in made
    ]


def test_there_are_thirty_days_and_more_than_three_thousand_orders(made: Made) -> None:
    assert len({at.date() for at, _ in made}) >= 30
    assert UNTIL - timedelta(days=30) <= made[0][0]
    assert made[-1][0] <= UNTIL
    assert [at for at, _ in made] == sorted(at for at, _ in made)
    assert sum(len(request["orders"]) for _, request in made) >= 3000


def test_the_same_seed_makes_the_same_past(made: Made) -> None:
    again = invented_past(read_stories(), UNTIL)
    assert json.dumps([request for _, request in made]) == json.dumps([r for _, r in again])


def test_each_request_is_another(made: Made) -> None:
    texts = {json.dumps(request, sort_keys=True) for _, request in made}
    assert len(texts) == len(made)


def test_every_place_and_age_is_there(made: Made, cases: list[Case]) -> None:
    places = Counter(setting_of(request) for _, request in made)
    assert set(places) == {"adult ward", "ICU", "ED", "theatre", "paediatric", "neonate"}
    assert min(places.values()) > 50
    ages = [case.patient.age_years or 0 for case in cases]
    assert sum(age < 28 / 365.25 for age in ages) > 50
    assert sum(1 < age < 16 for age in ages) > 100


def test_every_word_is_understood_or_asked_about(cases: list[Case]) -> None:
    unread = Counter(
        word
        for case in cases
        for word in (*case.patient.conditions.unread, *case.patient.medications.unread)
    )
    assert not unread
    nameless = [order for case in cases for order in case.orders if order.fluid is None]
    assert 20 < len(nameless) < 200
    assert all(order.candidates or order.questions for order in nameless)
    assert not [other.name for case in cases for other in case.co_infusions if not other.key]


def test_some_orders_are_text_alone_some_have_additives_some_results_are_missing(
    made: Made, cases: list[Case]
) -> None:
    orders = [order for _, request in made for order in request["orders"]]
    assert sum("order_text" in order for order in orders) > 80
    assert sum("additives" in order for order in orders) > 400
    assert sum("potassium" not in case.patient.results for case in cases) > 50
    assert sum(case.patient.weight_kg is None for case in cases) > 50


def test_nobody_is_in_it(made: Made, vocabulary: Vocabulary) -> None:
    for _, request in made[:300]:
        plain = without_person(request, vocabulary, ())
        assert plain["patient"]["conditions"] == request["patient"]["conditions"]
        assert plain["patient"].get("age_years") == request["patient"].get("age_years")
