"""A case read from words, for views to show."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
Reviewed = Callable[..., Review]


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


@pytest.fixture(scope="session")
def reviewed(knowledge: Knowledge) -> Reviewed:
    """reviewed(patient, *orders, others=[...]): the review of these words."""

    def review(
        patient: dict[str, Any], *orders: dict[str, Any], others: tuple[dict[str, Any], ...] = ()
    ) -> Review:
        numbered = [{"id": f"o{n}", **order} for n, order in enumerate(orders, 1)]
        request = {"patient": patient, "orders": numbered, "co_infusions": list(others)}
        return review_request(request, knowledge, now=NOW)

    return review
