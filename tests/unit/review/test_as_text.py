"""A review as a person reads it in a terminal."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from app.review.as_text import USUAL_CAUTION, lines_of
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
KCL_BAG: dict[str, Any] = {
    "id": "o1",
    "fluid": "0.9% sodium chloride",
    "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    "volume_ml": 1000,
    "rate_ml_h": 100,
}
POTASSIUM: dict[str, Any] = {
    "name": "potassium",
    "value": 6.1,
    "unit": "mmol/L",
    "taken_at": "2031-03-04T05:00:00Z",
}
TextOf = Callable[..., str]


@pytest.fixture(scope="module")
def text_of() -> TextOf:
    knowledge = Knowledge.from_seed()

    def made(*orders: dict[str, Any], **patient: object) -> str:
        request = {"patient": {"age_years": 61, "weight_kg": 70, **patient}, "orders": orders}
        return "\n".join(lines_of(review_request(request, knowledge, now=NOW)))

    return made


def test_a_finding_comes_with_level_reason_deed_and_source(text_of: TextOf) -> None:
    text = text_of(KCL_BAG, observations=[POTASSIUM])
    start = text.index("CRITICAL: ")
    found = text[start : text.index("[k-hyper]")]
    assert found.count("\n") == 3
    assert "    why: " in found
    assert "    do: " in found
    assert "    source: " in found
    assert "6.1 mmol/L" in found


def test_what_was_not_assessed_is_said_with_what_is_missing(text_of: TextOf) -> None:
    text = text_of(KCL_BAG)
    assert "not assessed:" in text
    assert "needs potassium (missing" in text


def test_what_is_missing_is_ranked_by_what_it_could_raise(text_of: TextOf) -> None:
    text = text_of(KCL_BAG)
    assert "Missing is not normal." in text
    first = text[text.index("    1. ") :].splitlines()[0]
    assert first.startswith("    1. critical: potassium (not recorded): could raise: ")


def test_when_no_answer_could_change_anything_nothing_is_said_of_it(text_of: TextOf) -> None:
    plain = {"fluid": "0.9% sodium chloride", "volume_ml": 500, "rate_ml_h": 50}
    assert "Missing is not normal." not in text_of(plain)


def test_a_stale_result_is_called_stale(text_of: TextOf) -> None:
    old = {**POTASSIUM, "taken_at": "2031-03-01T05:00:00Z"}
    assert "(stale: last potassium is 3 days old)" in text_of(KCL_BAG, observations=[old])


def test_what_is_not_understood_is_asked_about(text_of: TextOf) -> None:
    text = text_of({"id": "o1", "fluid": "blue water", "rate_ml_h": 50})
    assert "Order o1: “blue water”, not understood as one fluid" in text
    assert "to ask: orders[0].fluid “blue water”" in text


def test_the_worst_order_comes_first(text_of: TextOf) -> None:
    plain = {"id": "o0", "fluid": "0.9% sodium chloride", "volume_ml": 500, "rate_ml_h": 50}
    text = text_of(plain, KCL_BAG, observations=[POTASSIUM])
    assert text.index("Order o1") < text.index("Order o0")


def test_an_order_that_no_rule_found_fault_with_is_not_called_safe(text_of: TextOf) -> None:
    text = text_of(
        {"id": "o1", "fluid": "20% albumin", "volume_ml": 100, "rate_ml_h": 50, "duration_h": 2}
    ).lower()
    assert "safe" not in text
    assert "compatible" not in text


def test_no_order_is_said_aloud(text_of: TextOf) -> None:
    assert "No fluid order was given, so none was reviewed." in text_of()


def test_the_usual_caution_ends_every_text(text_of: TextOf) -> None:
    assert text_of(KCL_BAG).endswith(USUAL_CAUTION)
    assert text_of().endswith(USUAL_CAUTION)


def test_a_critical_order_stands_before_what_is_only_worth_knowing_of_the_patient(
    text_of: TextOf,
) -> None:
    bags = [{**KCL_BAG, "id": name, "purpose": "maintenance"} for name in ("o1", "o2")]
    text = text_of(*bags, observations=[POTASSIUM])
    levels = [line.split(":")[0] for line in text.splitlines() if line.startswith("  CRITICAL")]
    assert levels
    assert text.index("CRITICAL") < text.index("The patient as a whole")
