"""A case is right when all is said that must be, and nothing is loud that must not be."""

from collections.abc import Mapping
from typing import Any

import pytest

from app.intake.errors import InputError
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.measured.score import Scored, scored, vignette_of
from app.review.workflow import review_request

CASE: dict[str, Any] = {
    "id": "p-1",
    "title": "Potassium in a bag while potassium is high",
    "group": "problem",
    "patient": {"age_years": 60, "weight_kg": 70, "results": {"potassium": 6.1}},
    "orders": [
        {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 80,
         "additives": [{"substance": "potassium chloride", "amount": 40, "unit": "mmol"}]},
    ],
    "must": [{"rule": "k-hyper", "level": "critical"}],
}  # fmt: skip
CRITICAL, WARNING, INFO = 0, 1, 2


def said(levels: dict[str, int], **case: object) -> Scored:
    return Scored(vignette_of({**CASE, **case}, "nurse"), levels)


def test_the_review_is_asked_with_the_cases_own_request() -> None:
    knowledge = Knowledge.from_seed()
    result = scored(vignette_of(CASE, "nurse"), lambda r: review_request(r, knowledge))
    assert result.said["k-hyper"] == CRITICAL
    assert result.is_right


def test_what_is_said_too_softly_is_missed() -> None:
    assert not said({"k-hyper": CRITICAL}).missed
    assert [str(want) for want in said({"k-hyper": WARNING}).missed] == ["k-hyper (critical)"]
    assert said({}).missed


def test_louder_than_asked_is_found() -> None:
    wants = [{"rule": "k-hyper", "level": "warning"}]
    assert not said({"k-hyper": CRITICAL}, must=wants).missed


def test_any_of_several_rules_will_do() -> None:
    wants = [{"any_of": ["k-hyper", "k-add-renal"], "level": "warning"}]
    assert not said({"k-add-renal": WARNING}, must=wants).missed
    assert said({"k-other": WARNING}, must=wants).missed


def test_a_quiet_case_bears_notes_but_nothing_loud() -> None:
    assert said({"k-any": INFO}, must=[], quiet=True).is_right
    assert said({"k-any": WARNING}, must=[], quiet=True).false_alarms == {"k-any"}


def test_elsewhere_only_the_named_rules_are_false_alarms() -> None:
    levels = {"k-hyper": CRITICAL, "na-hypo": WARNING, "lac-acidosis": INFO}
    result = said(levels, must_not=["na-hypo", "lac-acidosis"])
    assert result.false_alarms == {"na-hypo"}
    assert not result.is_right


def test_a_case_that_is_not_reviewed_is_wrong_and_says_why() -> None:
    def refuse(request: Mapping[str, Any]) -> Review:
        raise InputError("orders[0].rate_ml_h", "fast", "a number")

    result = scored(vignette_of({**CASE, "must": []}, "nurse"), refuse)
    assert "orders[0].rate_ml_h" in result.refused
    assert not result.is_right


@pytest.mark.parametrize("wrong", [{"group": "odd"}, {"must": [{"rule": "x", "level": "loud"}]}])
def test_an_unknown_group_or_level_is_told_by_case(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="p-1"):
        vignette_of({**CASE, **wrong}, "nurse")
