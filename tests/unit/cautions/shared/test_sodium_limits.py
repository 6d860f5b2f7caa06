"""Which limit of a day counts in whom, and when sodium is measured again."""

import pytest

from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import defaults
from app.cautions.shared.sodium_limits import (
    fall_limit_name,
    next_sample_h,
    rise_limit_names,
    rise_risks,
)

RISE = defaults(RULE_BY_ID["na-rise-forecast"].limits)
FALL = defaults(RULE_BY_ID["na-fall-forecast"].limits)


def test_nothing_known_is_no_risk() -> None:
    assert rise_risks((), None, 120, RISE) == ()
    assert rise_risks(("heart_failure",), 3.5, 116, RISE) == ()


def test_each_risk_is_said_as_people_say_it() -> None:
    found = rise_risks(("alcohol_dependence", "liver_disease"), 3.1, 112, RISE)
    assert found == (
        "alcohol dependence", "liver disease", "potassium 3.1 mmol/L", "sodium was 112 mmol/L"
    )  # fmt: skip


def test_high_risk_lowers_the_limit_and_a_known_short_time_leaves_only_the_highest() -> None:
    def figures(*, at_risk: bool, acute: bool) -> list[float]:
        return [RISE[name] for name in rise_limit_names(at_risk=at_risk, acute=acute)]

    assert figures(at_risk=False, acute=False) == [8, 10]
    assert figures(at_risk=True, acute=False) == [6, 8]
    assert figures(at_risk=True, acute=True) == figures(at_risk=False, acute=True) == [10]


def test_a_child_s_sodium_may_fall_a_little_further() -> None:
    assert FALL[fall_limit_name(child=True)] > FALL[fall_limit_name(child=False)]


@pytest.mark.parametrize(
    ("sodium", "sign", "near", "hours"),
    [
        (124, 1, False, 4), (125, 1, False, None), (140, 1, True, 2), (112, 1, True, 2),
        (156, -1, False, 6), (155, -1, False, None), (150, -1, True, 4),
    ],
)  # fmt: skip
def test_the_next_sodium(sodium: float, sign: int, near: bool, hours: float | None) -> None:
    limits = RISE if sign > 0 else FALL
    assert next_sample_h(sodium, limits, sign=sign, near=near) == hours
