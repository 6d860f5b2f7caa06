"""One order that several rules speak of, with its receipts."""

import json
from typing import Any

import pytest

from app.review.knowledge import Knowledge
from app.review.receipts.receipt import Receipt, receipts_of, text_of
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request

REQUEST: dict[str, Any] = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {
        "age_years": 61,
        "weight_kg": 70,
        "conditions": ["acute kidney injury stage 3"],
        "observations": [
            {"name": "potassium", "value": 5.9, "unit": "mmol/L",
             "taken_at": "2031-03-04T05:00:00Z"},
            {"name": "glucose", "value": 180, "unit": "mg/dL",
             "taken_at": "2031-03-04T05:00:00Z"},
        ],
    },
    "orders": [
        {"id": "o1", "fluid": "lactated Ringer's", "volume_ml": 1000, "rate_ml_h": 125,
         "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}]},
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "kind": "drug"}],
}  # fmt: skip


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """Everything known, with limits as shipped."""
    return Knowledge.from_seed()


def made(request: dict[str, Any], knowledge: Knowledge, **about: str) -> list[Receipt]:
    """The receipts of a request's review, as they are after a trip through a file."""
    review = review_request(request, knowledge)
    receipts = receipts_of(request, review, versions_of(knowledge), about)
    return [json.loads(text_of(receipt)) for receipt in receipts]


@pytest.fixture
def receipts(knowledge: Knowledge) -> list[Receipt]:
    """A chain of several receipts."""
    chain = made(REQUEST, knowledge, bed="24", initials="A. B.")
    assert len(chain) > 2
    return chain
