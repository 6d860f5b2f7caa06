"""What is proposed for one order: reviewed in its patient, never first what brings a critical."""

from collections.abc import Callable

import pytest

from app.review.assess import Review
from app.review.shortage.candidates import Means
from app.review.shortage.loss import Loss
from app.review.shortage.offers import Offers, offers_of, reviewed_with
from tests.unit.review.shortage.conftest import RINGERS, SALINE, order

Reviewed = Callable[..., Review]
Losing = Callable[..., Loss]
MeansOf = Callable[..., Means]
CRYSTALLOIDS_WITHOUT_CALCIUM = (
    "multiple-electrolytes-type-1-ph-5.5", "multiple-electrolytes-type-1-ph-7.4",
    "multiple-electrolytes-type-1-phosphate",
)  # fmt: skip
BLEEDING = {"conditions": ["haemorrhage"]}
RED_CELLS = [{"name": "red cells 1 unit over 2 h, same line", "kind": "blood"}]


@pytest.fixture
def beside_blood(reviewed: Reviewed) -> Review:
    """0.9% sodium chloride on the line of a transfusion."""
    return reviewed(
        order(rate_ml_h=125, volume_ml=500, lumen="left hand"), patient=BLEEDING, co=RED_CELLS
    )


def offered(made: Offers) -> list[str]:
    return [one.fluid.id for one in made.offered]


def test_at_most_three_are_offered_the_nearest_first(
    reviewed: Reviewed, losing: Losing, means: MeansOf
) -> None:
    before = reviewed(order("lactated Ringer's (US)"))
    made = offers_of(before.case.orders[0], before, losing(RINGERS), means())
    assert len(made.offered) == 3
    away = [one.candidate.away.value for one in made.offered]
    assert away == sorted(away)
    assert made.first is made.offered[0]


def test_what_brings_a_critical_caution_is_told_and_not_offered(
    beside_blood: Review, losing: Losing, means: MeansOf
) -> None:
    one = beside_blood.case.orders[0]
    made = offers_of(one, beside_blood, losing(SALINE), means())
    critical = [tried.fluid.id for tried in made.critical]
    assert RINGERS in critical, "calcium with citrated blood"
    assert not set(offered(made)) & set(critical)
    for tried in made.offered:
        assert not tried.changes.brings_critical
    for tried in made.critical:
        assert any(change.level == "critical" for change in tried.changes.new)


def test_when_every_substitute_brings_one_all_were_tried_and_that_is_said(
    beside_blood: Review, losing: Losing, means: MeansOf
) -> None:
    one = beside_blood.case.orders[0]
    loss = losing(SALINE, *CRYSTALLOIDS_WITHOUT_CALCIUM, "sodium-bicarbonate-1.26",
                  "sodium-bicarbonate-1.4", "sodium-lactate-sixth-molar")  # fmt: skip
    free = offers_of(one, beside_blood, losing(SALINE), means())
    gone = losing(*loss.sizes, *offered(free))
    while (made := offers_of(one, beside_blood, gone, means())).offered:
        gone = losing(*gone.sizes, *offered(made))
    assert made.every_one_is_critical
    assert made.first is None
    assert len(made.critical) >= 3


def test_nothing_to_offer_is_not_every_one_critical(
    reviewed: Reviewed, losing: Losing, means: MeansOf
) -> None:
    before = reviewed(order("20% mannitol", volume_ml=250))
    made = offers_of(before.case.orders[0], before, losing("mannitol-20"), means())
    assert made == Offers()
    assert not made.every_one_is_critical


def test_the_patients_other_orders_stay_as_they_are(
    reviewed: Reviewed, losing: Losing, means: MeansOf
) -> None:
    before = reviewed(order(), order("5% glucose (UK and Europe)", rate_ml_h=40))
    made = offers_of(before.case.orders[0], before, losing(SALINE), means())
    after = reviewed_with(before, (made.offered[0].candidate,), means())
    assert [one.order.fluid.id for one in after.orders] == [made.offered[0].fluid.id, "glucose-5"]
    assert before.case.orders[0].fluid.id == SALINE, "the review that was made is untouched"


def test_a_new_warning_is_told_and_does_not_bar(
    reviewed: Reviewed, losing: Losing, means: MeansOf
) -> None:
    injured = {"conditions": ["traumatic brain injury"]}
    before = reviewed(order(purpose="maintenance", rate_ml_h=75), patient=injured)
    made = offers_of(before.case.orders[0], before, losing(SALINE), means())
    levels = {change.level for tried in made.offered for change in tried.changes.new}
    assert "warning" in levels
    assert "critical" not in levels
