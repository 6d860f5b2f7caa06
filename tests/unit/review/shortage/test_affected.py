"""Which orders and drugs a loss concerns, and which only seem to."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.shortage.affected import Affected, affected_drugs, affected_orders, bag_ends
from app.review.shortage.draws import draws_of
from app.review.shortage.loss import Loss
from tests.conftest import NOW
from tests.unit.review.shortage.conftest import SALINE, order

Reviewed = Callable[..., Review]
Losing = Callable[..., Loss]
AffectedBy = Callable[..., tuple[Affected[str], ...]]
POTASSIUM = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}


@pytest.fixture
def affected(knowledge: Knowledge) -> AffectedBy:
    """affected(loss, review): what it concerns."""

    def made(loss: Loss, review: Review) -> tuple[Affected[str], ...]:
        draws = draws_of(review.case, knowledge.catalogue, knowledge.vehicles)
        return affected_orders([("a", review, draws)], loss, knowledge.catalogue)

    return made


def test_the_orders_of_what_is_lost_are_affected_and_no_others(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    review = reviewed(order(), order("lactated Ringer's (US)"))
    assert [one.order.id for one in affected(losing(SALINE), review)] == ["o1"]
    assert affected(losing("mannitol-20"), review) == ()


def test_of_one_size_only_what_hangs_from_it(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    review = reviewed(order(), order(volume_ml=500))
    loss = losing(f"{SALINE}@500")
    assert [one.order.id for one in affected(loss, review)] == ["o2"]


def test_what_should_be_in_before_the_loss_is_told_apart(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    bolus = order(volume_ml=500, rate_ml_h=1000, purpose="resuscitation")
    upkeep = order(purpose="maintenance", rate_ml_h=75)
    review = reviewed(bolus, upkeep)
    now = affected(losing(SALINE), review)
    assert [one.standing for one in now] == ["affected", "affected"]
    later = affected(losing(SALINE, starts=NOW + timedelta(hours=6)), review)
    assert [one.standing for one in later] == ["over", "affected"]


def test_a_name_that_may_mean_what_is_lost_is_told_as_such(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    review = reviewed(order("dextrose saline"))
    (one,) = affected(losing("dextrose-5-sodium-chloride-0.45"), review)
    assert (one.standing, one.draw) == ("may be", None)
    assert affected(losing(SALINE), review) == ()


def test_a_lost_additive_affects_the_bag_it_goes_into(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    review = reviewed(order(additives=[POTASSIUM]), order())
    (one,) = affected(losing("potassium-chloride-concentrate"), review)
    assert one.order.id == "o1"
    assert [dose.substance for dose in one.doses] == ["potassium_chloride"]
    assert {draw.what for draw in one.draws} == {"order", "additive"}


def test_an_order_that_does_not_run_is_not_affected(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    review = reviewed(order(order_text="on hold"))
    assert review.case.not_given
    assert affected(losing(SALINE), review) == ()


def test_when_a_bag_ends_and_whether_the_next_is_hung(reviewed: Reviewed) -> None:
    started = "2031-03-04T05:00:00Z"
    upkeep = reviewed(order(purpose="maintenance", rate_ml_h=100, starts_at=started)).case
    assert bag_ends(upkeep.orders[0], upkeep) == (NOW + timedelta(hours=8), True)
    once = reviewed(order(purpose="replacement", rate_ml_h=300, starts_at=started)).case
    ends, renewed = bag_ends(once.orders[0], once)
    assert not renewed
    assert ends == NOW + timedelta(hours=4 / 3)
    unknown = reviewed({"fluid": "0.9% sodium chloride"}).case
    assert bag_ends(unknown.orders[0], unknown)[0] is None


def test_a_bag_that_goes_on_with_no_start_ends_nobody_knows_when(reviewed: Reviewed) -> None:
    case = reviewed(order(purpose="maintenance", rate_ml_h=100)).case
    assert bag_ends(case.orders[0], case) == (None, True)


def test_what_is_to_be_asked_of_an_order_goes_with_it(
    affected: AffectedBy, reviewed: Reviewed, losing: Losing
) -> None:
    drinks = {"conditions": ["eating and drinking"]}
    review = reviewed(order(purpose="maintenance", rate_ml_h=75), patient=drinks)
    (one,) = affected(losing(SALINE), review)
    assert one.may_drink
    assert one.measures == ("oral", "review")


def test_a_drug_in_a_lost_carrier_is_told_and_one_in_another_is_not(
    reviewed: Reviewed, losing: Losing, knowledge: Knowledge
) -> None:
    drugs = [
        {"name": "piperacillin-tazobactam 4.5 g in 100 mL 0.9% sodium chloride over 30 min q8h",
         "kind": "drug"},
        {"name": "norepinephrine 4 mg in 50 mL 5% glucose at 5 mL/h", "kind": "drug"},
    ]  # fmt: skip
    review = reviewed(order(), co=drugs)
    draws = draws_of(review.case, knowledge.catalogue, knowledge.vehicles)
    beds = [("a", review, draws)]
    assert [one.draw.source[:5] for one in affected_drugs(beds, losing(SALINE))] == ["piper"]
    only_litres = losing(f"{SALINE}@1000")
    assert affected_drugs(beds, only_litres) == ()
