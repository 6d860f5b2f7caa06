"""A loss played through on a unit."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.shortage.candidates import Means
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Rehearsal, Unit, rehearse
from tests.conftest import NOW
from tests.unit.review.shortage.conftest import RINGERS, SALINE, counted, order

Reviewed = Callable[..., Review]
Losing = Callable[..., Loss]
MeansOf = Callable[..., Means]
Played = Callable[..., Rehearsal[str]]
UPKEEP = {"purpose": "maintenance", "rate_ml_h": 75}
BLEEDING = {"conditions": ["haemorrhage"]}
RED_CELLS = [{"name": "red cells 1 unit over 2 h, same line", "kind": "blood"}]


def test_each_affected_order_has_its_offers_and_the_others_none(
    played: Played, losing: Losing, reviewed: Reviewed
) -> None:
    made = played(losing(SALINE), reviewed(order(**UPKEEP)), reviewed(order("dextrose saline")))
    (one,) = made.orders
    assert (one.key, one.standing) == ("a", "affected")
    assert one.offers.offered
    bolus = reviewed(order(volume_ml=500, rate_ml_h=1000, purpose="resuscitation"))
    over = played(losing(SALINE, starts=NOW + timedelta(days=2)), bolus)
    (one,) = over.orders
    assert one.standing == "over"
    assert not one.offers.offered


def test_everybody_turning_to_the_nearest_adds_up(
    played: Played, losing: Losing, reviewed: Reviewed, means: MeansOf
) -> None:
    ringers = reviewed(order("lactated Ringer's (US)", **UPKEEP))
    csl = reviewed(order("compound sodium lactate (Hartmann's solution)", **UPKEEP))
    using = means(counts=counted(("compound-sodium-lactate", 1000, 9)))
    made = played(losing(RINGERS), ringers, ringers, csl, using=using)
    (turned,) = made.turned
    assert turned.fluid.id == "compound-sodium-lactate"
    assert turned.orders == 2
    assert turned.extra_ml_day == pytest.approx(3600)
    assert turned.bags_day == pytest.approx({1000: 3.6})
    assert turned.now_ml_day == pytest.approx(1800)
    assert turned.days == pytest.approx(2.5)


def test_what_is_left_is_kept_for_those_for_whom_nothing_may_be_offered(
    played: Played, losing: Losing, reviewed: Reviewed, means: MeansOf
) -> None:
    mannitol = reviewed(order("20% mannitol", volume_ml=500, rate_ml_h=500))
    using = means(counts=counted(("mannitol-20", 500, 3)))
    made = played(losing("mannitol-20"), mannitol, using=using)
    (kept,) = made.kept
    assert (kept.fluid_id, kept.orders) == ("mannitol-20", 1)
    assert kept.ml_day == pytest.approx(500)
    assert kept.days == pytest.approx(3)
    assert made.turned == ()


def test_a_patient_whose_orders_all_switch_is_reviewed_with_all_of_it(
    played: Played, losing: Losing, reviewed: Reviewed
) -> None:
    two = reviewed(
        order("lactated Ringer's (US)", purpose="replacement", rate_ml_h=83),
        order("0.9% sodium chloride", purpose="maintenance", rate_ml_h=75),
    )
    made = played(losing(RINGERS, SALINE), two)
    assert len(made.standing("affected")) == 2
    told = {(c.found.rule.id, c.level) for one in made.orders
            for c in one.offers.first.changes.new}  # fmt: skip
    for one in made.together:
        assert not told & {(change.found.rule.id, change.level) for change in one.new}


def test_a_fluid_without_orders_concerns_nobody(
    played: Played, losing: Losing, reviewed: Reviewed
) -> None:
    made = played(losing("mannitol-20"), reviewed(order()))
    assert (made.orders, made.drugs, made.turned, made.kept) == ((), (), (), ())
    assert made.lasting[0].use.ml_day == 0


def test_an_empty_unit_is_rehearsed_too(played: Played, losing: Losing) -> None:
    made = played(losing(SALINE))
    assert made.orders == ()
    assert made.lasting[0].fluid.id == SALINE


def test_the_use_of_a_unit_is_that_of_its_beds(
    reviewed: Reviewed, means: MeansOf, knowledge: Knowledge
) -> None:
    reviews = [("a", reviewed(order(**UPKEEP))), ("b", reviewed(order(**UPKEEP)))]
    unit = Unit.of(reviews, means(), knowledge.vehicles)
    assert unit.use[SALINE].ml_day == pytest.approx(3600)
    assert unit.use[SALINE].orders == 2


def test_a_rehearsal_changes_no_review(
    played: Played, losing: Losing, reviewed: Reviewed, means: MeansOf, knowledge: Knowledge
) -> None:
    review = reviewed(order(**UPKEEP))
    before = replace(review)
    unit = Unit.of([("a", review)], means(), knowledge.vehicles)
    first = rehearse(unit, losing(SALINE), means())
    second = rehearse(unit, losing(SALINE), means())
    assert review == before
    names = [[tried.fluid.id for tried in made.orders[0].offers.offered]
             for made in (first, second)]  # fmt: skip
    assert names[0] == names[1]


def test_beside_blood_nothing_with_calcium_is_what_an_order_turns_to(
    played: Played, losing: Losing, reviewed: Reviewed, knowledge: Knowledge
) -> None:
    review = reviewed(order(volume_ml=500, lumen="left hand"), patient=BLEEDING, co=RED_CELLS)
    made = played(losing(SALINE), review)
    first = made.orders[0].offers.first
    assert first is not None
    assert first.fluid.composition.calcium_mmol_l == 0
    assert made.turned[0].fluid.id == first.fluid.id
