from datetime import date

from app.cautions.limits import LimitChange, limits_in_force
from app.cautions.registry import RULE_BY_ID, RULES

HIGH = "potassium_high_mmol_l"
TODAY = date(2031, 3, 4)


def change(value: float, day: date, name: str = HIGH) -> LimitChange:
    return LimitChange("k-hyper", name, value, day, "local policy", "M. Pharmacist")


def in_force(*changes: LimitChange) -> float:
    return limits_in_force(RULES, changes, on=TODAY)["k-hyper"][HIGH]


def test_without_changes_the_shipped_limits_hold() -> None:
    shipped = {limit.name: limit.value for limit in RULE_BY_ID["k-hyper"].limits}
    assert limits_in_force(RULES, on=TODAY)["k-hyper"] == shipped


def test_a_change_holds_from_its_day_on() -> None:
    assert in_force(change(6.0, TODAY)) == 6.0
    assert in_force(change(6.0, date(2031, 3, 5))) == 5.5


def test_the_latest_change_holds_whatever_the_order_they_come_in() -> None:
    first, second = change(6.0, date(2031, 1, 1)), change(5.8, date(2031, 2, 1))
    assert in_force(second, first) == in_force(first, second) == 5.8


def test_a_limit_or_rule_that_is_gone_is_left_alone() -> None:
    gone = change(1.0, TODAY, name="no_such_limit")
    other = LimitChange("no-such-rule", HIGH, 1.0, TODAY, "", "")
    assert in_force(gone, other) == 5.5
    assert "no-such-rule" not in limits_in_force(RULES, (other,), on=TODAY)
