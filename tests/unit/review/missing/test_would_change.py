"""What is missing is ranked by what it could raise, and asked for by nobody here."""

from app.cautions.assess import Found
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Finding, Level
from app.patient.known import Why
from app.review.assess import Review
from app.review.missing.lack import Lack
from app.review.missing.would_change import CouldRaise, would_change
from tests.unit.review.conftest import KCL_20, ReviewOf, loud, maintenance, result

SALINE = "0.9% sodium chloride"
TITLE = RULE_BY_ID["k-hyper"].title


def lack(
    need: str, rank: int, rule_id: str = "k-hyper", why: Why = "missing", *, judged: bool = False
) -> Lack:
    return Lack(need, why, "", rank, RULE_BY_ID[rule_id], ("o1",), judged)


def said(rule_id: str, level: Level) -> Found:
    return Found(RULE_BY_ID[rule_id], Finding(level, "Said.", "", order_ids=("o1",)), {})


def needs(found: tuple[CouldRaise, ...]) -> list[str]:
    return [one.need for one in found]


def listed(review: Review) -> list[str]:
    return needs(review.would_change)


def test_the_worst_it_could_raise_comes_first() -> None:
    assert needs(would_change([lack("sodium", 1), lack("potassium", 0)], ())) == [
        "potassium",
        "sodium",
    ]


def test_of_one_level_the_value_that_settles_more_rules_comes_first() -> None:
    lacks = [lack("sodium", 1), lack("potassium", 1), lack("potassium", 1, "k-renal")]
    ranked = would_change(lacks, ())
    assert needs(ranked) == ["potassium", "sodium"]
    assert [rule.id for rule in ranked[0].rules] == ["k-hyper", "k-renal"]


def test_a_rule_on_two_orders_counts_once() -> None:
    twice = [lack("sodium", 1), lack("sodium", 1)]
    assert needs(would_change([*twice, lack("ph", 1, judged=True)], ())) == ["ph", "sodium"]


def test_then_what_the_bag_is_judged_by_comes_first() -> None:
    lacks = [lack("sodium", 1), lack("potassium", 1, judged=True)]
    assert needs(would_change(lacks, ())) == ["potassium", "sodium"]


def test_a_value_that_could_raise_nothing_is_not_listed() -> None:
    assert would_change([lack("sodium", 3)], ()) == ()


def test_a_value_that_could_only_raise_what_is_said_already_is_not_listed() -> None:
    assert would_change([lack("sodium", 1)], [said("k-hyper", "warning")]) == ()
    assert needs(would_change([lack("sodium", 0)], [said("k-hyper", "warning")])) == ["sodium"]


def test_it_is_told_with_the_reason_and_the_rules() -> None:
    title = TITLE[:1].lower() + TITLE[1:]
    assert would_change([lack("potassium", 0)], ())[0].sentence == (
        f"potassium (not recorded): could raise: {title}"
    )


def test_a_stale_value_says_how_old_it_is(review_of: ReviewOf) -> None:
    old = [result("potassium", 4.1, taken_at="2031-03-02T05:00:00Z")]
    review = review_of(maintenance(SALINE, additives=KCL_20), observations=old)
    first = review.would_change[0]
    assert (first.need, first.why, first.level) == ("potassium", "stale", "critical")
    assert "2 days old" in first.sentence


def test_a_value_in_doubt_says_what_is_doubted(review_of: ReviewOf) -> None:
    wrong = [result("potassium", 50)]
    review = review_of(maintenance(SALINE, additives=KCL_20), observations=wrong)
    assert review.would_change[0].why == "suspect"
    assert "possible" in review.would_change[0].state


def test_what_is_asked_for_aloud_is_in_the_list_too(review_of: ReviewOf) -> None:
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male")
    assert loud(review) == {"data-missing"}
    assert listed(review)[0] == "potassium"
    assert review.would_change[0].order_ids == ("o1",)


def test_what_is_not_asked_for_aloud_is_listed_quietly(review_of: ReviewOf) -> None:
    review = review_of(maintenance("Hartmann's"), conditions=["liver disease"])
    assert not loud(review)
    assert listed(review) == ["inr"]
    assert [rule.id for rule in review.would_change[0].rules] == ["lac-liver"]


def test_when_everything_is_known_nothing_would_change(review_of: ReviewOf) -> None:
    known = [result("potassium", 4.1), result("creatinine", 80, "umol/L"), result("sodium", 139)]
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male", observations=known)
    assert listed(review) == []


def test_each_fluid_a_name_may_mean_is_tried(review_of: ReviewOf) -> None:
    review = review_of(maintenance("dextrose saline"))
    assert review.orders[0].order.candidates
    assert "sodium" in listed(review)
