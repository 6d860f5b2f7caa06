"""What was not assessed, as rows a page can print."""

from collections.abc import Callable

from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Level, NotAssessed
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.missing.would_change import CouldRaise
from app.web.advice.missing import missing_of, missing_views

Reviewed = Callable[..., Review]
TITLES = {"k-hyper": "Rule A", "k-renal": "Rule B"}


def lacked(rule_id: str, need: str) -> NotAssessed:
    return NotAssessed(rule_id, (need,), "missing", "")


def could_raise(need: str, rule_id: str, level: Level) -> CouldRaise:
    return CouldRaise(need, "missing", "", ((RULE_BY_ID[rule_id], level),), ("o1",))


def test_one_missing_value_is_told_once_with_all_that_wanted_it() -> None:
    missing = [
        NotAssessed("a", ("weight_kg",), "missing", ""),
        NotAssessed("b", ("weight_kg",), "missing", ""),
        NotAssessed("c", ("potassium",), "stale", "last potassium is 31 h old"),
    ]
    weight, potassium = missing_views(missing, {"a": "Rule A", "b": "Rule B"})
    assert (weight.what, weight.rules) == ("No weight", ("Rule A", "Rule B"))
    assert (potassium.what, potassium.rules) == ("Last potassium is 31 h old", ("c",))


def test_what_could_change_most_comes_first_and_says_what_it_could_raise() -> None:
    missing = [lacked("k-hyper", "sodium"), lacked("k-renal", "potassium")]
    first, last = missing_views(missing, TITLES, [could_raise("potassium", "k-renal", "critical")])
    assert (first.what, first.raises, first.rules) == (
        "No potassium", (("critical", ("Rule B",)),), (),
    )  # fmt: skip
    assert (last.what, last.raises, last.rules) == ("No sodium", (), ("Rule A",))


def test_a_rule_that_no_plausible_value_raises_is_named_apart() -> None:
    missing = [lacked("k-hyper", "potassium"), lacked("k-renal", "potassium")]
    (one,) = missing_views(missing, TITLES, [could_raise("potassium", "k-renal", "warning")])
    assert (one.raises, one.rules) == ((("warning", ("Rule B",)),), ("Rule A",))


def test_what_another_order_lacks_is_not_told_of_this_one() -> None:
    missing = [lacked("k-hyper", "potassium")]
    (one,) = missing_views(missing, TITLES, [could_raise("potassium", "k-renal", "critical")])
    assert (one.raises, one.rules) == ((), ("Rule A",))


def test_a_review_tells_what_its_orders_lack_the_worst_first(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    potassium = {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}
    bag = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "additives": [potassium]}
    first = missing_of(reviewed({"age_years": 50, "weight_kg": 60}, bag), knowledge.ruleset)[0]
    assert first.what == "No potassium result"
    assert first.raises[0][0] == "critical"
