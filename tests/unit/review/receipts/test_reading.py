"""A receipt is checked before anything is made of it."""

import pytest

from app.intake.errors import InputError
from app.review.receipts.reading import kept
from app.review.receipts.receipt import Receipt


def nested(depth: int) -> object:
    """A list in a list in a list …"""
    whole: object = "24"
    for _ in range(depth):
        whole = [whole]
    return whole


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("schema", "another"), ("number", "1"), ("versions", []), ("made_at", "yesterday"),
        ("made_at", "2031-03-04T07:00:00"), ("zone", "Nowhere/Land"), ("request", None),
        ("limits", [{"name": "x", "in_force": "5"}]), ("limits", [{"in_force": 5}]),
        ("limits", [7]), ("about", {"bed": nested(500)}),
        ("fluids", [{"id": "water"}]), ("fluids", ["water"]),
    ],
)  # fmt: skip
def test_a_field_that_no_receipt_has_is_told(
    receipts: list[Receipt], field: str, value: object
) -> None:
    with pytest.raises(InputError):
        kept({**receipts[0], field: value}, "r.json")


@pytest.mark.parametrize("document", [None, [], "receipt", {}])
def test_what_is_no_receipt_at_all_is_told(document: object) -> None:
    with pytest.raises(InputError, match="schema"):
        kept(document, "r.json")


def test_the_moment_keeps_the_units_zone(receipts: list[Receipt]) -> None:
    read = kept({**receipts[0], "zone": "Europe/Lisbon"}, "r.json")
    assert str(read.made_at.tzinfo) == "Europe/Lisbon"
    assert read.made_at.isoformat() == receipts[0]["made_at"]


def test_an_edited_receipt_is_known_by_its_hash(receipts: list[Receipt]) -> None:
    assert not kept(receipts[0], "r.json").is_edited
    assert kept({**receipts[0], "level": "info"}, "r.json").is_edited
