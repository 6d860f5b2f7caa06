"""Advice says which fluids it names that cannot be had."""

from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import State, Stock, StockState
from app.cautions.assess import Found, Ruleset
from app.review.assess import Review
from app.review.ways.offers import Offers
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result


@pytest.fixture
def reviewed(review_of: ReviewOf) -> Review:
    high = [result("potassium", 5.9), result("creatinine", 80, "umol/L")]
    order = maintenance("0.9% sodium chloride", additives=KCL_20)
    return review_of(order, observations=high, sex="male")


def offers(reviewed: Review, catalogue: Catalogue, ruleset: Ruleset, **told: State) -> Offers:
    states = {key.replace("__", "-"): StockState(state) for key, state in told.items()}
    return Offers.of(reviewed, catalogue, ruleset, Stock(states))


def saying(reviewed: Review, do: str) -> Found:
    found = reviewed.orders[0].found[0]
    return replace(found, finding=replace(found.finding, do=do))


OUT: dict[str, State] = {"sodium-chloride-0.9": "out"}
USE_SALINE = "Use 0.9% sodium chloride; repeat sodium within 6 h."


def test_a_fluid_that_advice_names_is_said_to_be_out(
    reviewed: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    made = offers(reviewed, catalogue, ruleset, **OUT)
    assert made.advice(saying(reviewed, USE_SALINE)) == (
        f"{USE_SALINE} Here 0.9% sodium chloride is out."
    )


def test_advice_stays_as_it_is_when_nothing_it_names_is_lacking(
    reviewed: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    found = saying(reviewed, USE_SALINE)
    for told in ({}, {"sodium-chloride-0.9": "short"}, {"sodium-chloride-0.45": "out"}):
        assert offers(reviewed, catalogue, ruleset, **told).advice(found) == USE_SALINE


def test_a_longer_name_is_not_taken_for_the_shorter_one_within_it(
    reviewed: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    found = saying(reviewed, "Use 5% dextrose in 0.9% sodium chloride.")
    made = offers(reviewed, catalogue, ruleset, **OUT)
    assert made.advice(found) == "Use 5% dextrose in 0.9% sodium chloride."
    gone = offers(reviewed, catalogue, ruleset, **{"dextrose-5-sodium-chloride-0.9": "withdrawn"})
    assert gone.advice(found).endswith("Here 5% dextrose in 0.9% sodium chloride is withdrawn.")


def test_a_name_without_its_country_is_known(
    reviewed: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    made = offers(reviewed, catalogue, ruleset, **{"glucose-10": "out"})
    said = made.advice(saying(reviewed, "Use a central line, or 10% glucose."))
    assert said.endswith("Here 10% glucose is out.")


def test_other_fluids_are_sought_for_the_first_order_that_is_there(
    reviewed: Review, catalogue: Catalogue, ruleset: Ruleset
) -> None:
    made = offers(reviewed, catalogue, ruleset)
    order_id = reviewed.case.orders[0].id
    found = next(f for f in reviewed.orders[0].found if f.rule.id == "k-hyper")
    assert made.alternatives(found, ("nonsuch", order_id)) == made.ways[order_id].alternatives(
        found
    )
    assert made.alternatives(found, ()) == ()
