"""An affected order as a row: what it turns to, what is new, and whoever is asked."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from app.catalogue.stock.counts import BagCount, Counts
from app.catalogue.stock.stock import Stock, StockState
from app.cautions.rule import NotAssessed
from app.review.knowledge import Knowledge
from app.review.shortage.candidates import Means
from app.review.shortage.changes import Changes
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Rehearsal, Unit, rehearse
from app.review.workflow import Bedside, review_request
from app.web.fluids.shelf import Shelf
from app.web.shortage.rows import (
    EVERY_ONE,
    NO_OTHER,
    NOBODY_TOLD,
    drug_row,
    missing_text,
    order_row,
)

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
SALINE = "sodium-chloride-0.9"
KNOWN = Knowledge.from_seed()
SHELF = Shelf(Stock({"ringers-injection": StockState("in pharmacy", NOW)}), NOW)
POTASSIUM = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}


def bedside(**order: object) -> Bedside:
    one = {"id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 75,
           "purpose": "maintenance", "starts_at": "2031-03-04T02:00:00Z", **order}  # fmt: skip
    patient = {"age_years": 40, "sex": "male", "weight_kg": 70}
    drug = {"name": "ceftriaxone 2 g over 30 min once daily", "kind": "drug"}
    request = {"patient": patient, "orders": [one], "co_infusions": [drug]}
    return Bedside("p", "3", "A.B.", request, review_request(request, KNOWN, now=NOW))


def played(bed: Bedside, *lost: str) -> Rehearsal[str]:
    means = Means(KNOWN.catalogue, KNOWN.ruleset, SHELF.stock)
    unit = Unit.of([("p", bed.review)], means, KNOWN.vehicles)
    return rehearse(unit, Loss(dict.fromkeys(lost, frozenset()), NOW), means)


def test_a_row_says_whose_order_what_it_takes_and_when_its_bag_ends() -> None:
    bed = bedside()
    row = order_row(played(bed, SALINE).orders[0], bed, SHELF)
    assert (row.bed, row.who, row.href) == ("3", "A.B., 40 y", "/patients/p")
    assert row.words.startswith("0.9% sodium chloride, 1,000 mL, 75 mL/h")
    assert row.takes == "1.8 L of 0.9% sodium chloride a day"
    assert row.ends == "another bag follows this one"
    assert row.first is row.offers[0]
    assert (row.first.name, row.first.how, row.first.away) == (
        "Ringer's injection (no lactate)", "1,000 mL bag", "85.5",
    )  # fmt: skip


def test_where_a_substitute_is_comes_from_what_is_told_else_from_counts_else_is_said_unknown() -> (
    None
):
    bed = bedside()
    one = played(bed, SALINE).orders[0]
    counts = Counts.of([BagCount("lactated-ringers", 1000, "ward", 4, NOW)])
    places = {offer.fluid_id: offer.place for offer in order_row(one, bed, SHELF, counts).offers}
    assert places["ringers-injection"] == "in pharmacy since 07:00"
    assert places["lactated-ringers"] == "4 L counted here"
    bare = {offer.fluid_id: offer.place for offer in order_row(one, bed, SHELF).offers}
    assert bare["lactated-ringers"] == NOBODY_TOLD


def test_a_premixed_bag_says_what_it_holds_and_another_what_is_still_put_in() -> None:
    bed = bedside(additives=[POTASSIUM])
    offers = order_row(played(bed, SALINE).orders[0], bed, SHELF).offers
    how = {offer.fluid_id: offer.how for offer in offers}
    assert how["potassium-chloride-40-sodium-chloride-0.9"] == (
        "1,000 mL bag, holds the 40 mmol potassium chloride as made"
    )
    assert how["ringers-injection"] == (
        "1,000 mL bag, with 40 mmol potassium chloride put in as ordered"
    )


def test_a_premixed_bag_of_another_strength_says_that_it_is_not_what_was_ordered() -> None:
    bed = bedside(additives=[POTASSIUM])
    offers = order_row(played(bed, "potassium-chloride-concentrate").orders[0], bed, SHELF).offers
    how = {offer.fluid_id: offer.how for offer in offers}
    assert how["potassium-chloride-20-sodium-chloride-0.9"] == (
        "1,000 mL bag, premixed, not with 40 mmol potassium chloride"
    )


def test_without_any_offer_the_reason_is_said() -> None:
    bed = bedside(fluid="20% mannitol", volume_ml=500, purpose=None, starts_at=None)
    one = played(bed, "mannitol-20").orders[0]
    assert order_row(one, bed, SHELF).none == NO_OTHER
    some = played(bedside(), SALINE).orders[0]
    critical = replace(some, offers=replace(some.offers, offered=(), critical=some.offers.offered))
    row = order_row(critical, bed, SHELF)
    assert row.none == EVERY_ONE
    assert row.first is None
    assert len(row.critical) == 3
    unknown = replace(some, offers=replace(some.offers, offered=(), why_none="it is unclear"))
    assert order_row(unknown, bed, SHELF).none == "Nothing is sought: it is unclear."


def test_a_bag_that_should_be_in_says_so() -> None:
    bed = bedside()
    one = replace(played(bed, SALINE).orders[0], ends=NOW - timedelta(hours=1), renewed=False)
    assert order_row(one, bed, SHELF).ends == "its bag should be in by now"
    over = replace(one, ends=NOW + timedelta(hours=1), standing="over")
    assert order_row(over, bed, SHELF).ends == "in at 08:00"
    assert order_row(replace(one, ends=None), bed, SHELF).ends == ""


def test_a_drug_says_in_what_it_comes_and_that_this_is_only_usual() -> None:
    bed = bedside()
    row = drug_row(played(bed, SALINE).drugs[0], bed)
    assert row.words == "Ceftriaxone 2 g over 30 min once daily"
    assert row.takes == ("in 0.9% sodium chloride (usual, not written), 100 mL a day: 1 of 100 mL")


@pytest.mark.parametrize(
    ("needs", "text"),
    [
        ([], ""),
        ([("weight_kg",)], "1 check could not run, not known: weight"),
        ([("weight_kg",), ("potassium", "weight_kg")],
         "2 checks could not run, not known: weight, potassium"),
        ([(f"thing_{n}",) for n in range(7)],
         "7 checks could not run, not known: thing 0, thing 1, thing 2, thing 3, thing 4, …"),
    ],
)  # fmt: skip
def test_what_could_not_be_assessed_is_said(needs: list[tuple[str, ...]], text: str) -> None:
    lacks = tuple(NotAssessed(f"r{n}", need, "missing", "") for n, need in enumerate(needs))
    assert missing_text(Changes(not_assessed=lacks)) == text
