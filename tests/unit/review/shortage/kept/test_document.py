"""A plan as a document: ids and figures, no word of a patient."""

import json
from collections.abc import Callable

import pytest

from app.review.assess import Review
from app.review.shortage.candidates import Means
from app.review.shortage.kept.document import SCHEMA, document_of
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Rehearsal
from tests.conftest import NOW
from tests.unit.review.shortage.conftest import SALINE, counted, order

Played = Callable[..., Rehearsal[str]]


@pytest.fixture
def kept(
    played: Played,
    losing: Callable[..., Loss],
    reviewed: Callable[..., Review],
    means: Callable[..., Means],
) -> dict[str, object]:
    review = reviewed(
        order(purpose="maintenance", rate_ml_h=75, order_text="for Ms Invented in bed 3"),
        patient={"conditions": ["traumatic brain injury"]},
    )
    loss = losing(SALINE, "mannitol-20", share=0.6)
    made = played(loss, review, using=means(counts=counted((SALINE, 1000, 9))))
    return document_of(made, at=NOW, version="v1")


def test_it_says_what_was_asked_and_what_came_of_it(kept: dict[str, object]) -> None:
    assert kept["schema"] == SCHEMA
    assert kept["lost"] == [SALINE, "mannitol-20"]
    assert (kept["share"], kept["days"], kept["version"]) == (0.6, 7, "v1")
    saline, mannitol = kept["lasting"]
    assert saline["ml_day"] == pytest.approx(1800)
    assert saline["days"] == pytest.approx(9000 / 1080)
    assert mannitol["days"] is None, "an endless number is no JSON"
    (one,) = kept["orders"]
    assert (one["patient"], one["order"], one["fluid"]) == ("a", "o1", SALINE)
    assert one["to"]
    assert all(level in ("critical", "warning", "info") for _, level in one["new"])


def test_it_is_json_to_the_letter(kept: dict[str, object]) -> None:
    assert json.loads(json.dumps(kept, allow_nan=False)) == kept


def test_no_word_of_the_patient_is_in_it(kept: dict[str, object]) -> None:
    text = json.dumps(kept)
    for word in ("Invented", "brain injury", "bed 3", "70", "male"):
        assert f'"{word}' not in text and f" {word}" not in text
