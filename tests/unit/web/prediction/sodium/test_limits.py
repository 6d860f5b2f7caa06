"""Which limits of a day count in whom, where they are counted from, and where they stand when."""

from types import MappingProxyType

import pytest

from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.web.pictures.curves import Result
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import DayLimits, day_limits

IN_FORCE = limits_in_force(RULES)


def person(
    *conditions: str, measured: tuple[Result, ...] = (), age_years: float = 50, **results: float
) -> Person:
    return Person(
        age_years=age_years,
        results=MappingProxyType(results),
        conditions=frozenset(conditions),
        measured=MappingProxyType({"sodium": measured}),
    )


def limits(sodium: float, whom: Person | None = None) -> DayLimits:
    return day_limits(whom or person(), sodium, IN_FORCE)


def said(found: DayLimits) -> list[tuple[str, float]]:
    return [(bound.words, bound.value) for bound in found.bounds()]


def test_a_low_sodium_may_rise_eight_then_ten_from_where_it_is() -> None:
    assert said(limits(118)) == [("+8 in 24 h", 126), ("+10 in 24 h", 128)]


@pytest.mark.parametrize(
    ("whom", "risk"),
    [
        (person("alcohol_dependence"), "alcohol dependence"),
        (person("liver_disease"), "liver disease"),
        (person("malnutrition"), "malnutrition"),
        (person(potassium=3.0), "potassium 3 mmol/L"),
    ],
)
def test_at_high_risk_the_aim_is_six_and_the_limit_eight(whom: Person, risk: str) -> None:
    found = limits(118, whom)
    assert said(found) == [("+6 in 24 h", 124), ("+8 in 24 h", 126)]
    assert found.risks == (risk,)


def test_a_sodium_as_low_as_the_rule_counts_is_itself_a_high_risk() -> None:
    assert limits(115).risks == ("sodium was 115 mmol/L",)
    assert limits(116).risks == ()


def test_known_to_be_new_only_the_highest_limit_is_kept() -> None:
    found = limits(118, person("acute_hyponatraemia", "alcohol_dependence"))
    assert said(found) == [("+10 in 24 h", 128)]


def test_what_has_risen_already_counts_until_its_day_is_over() -> None:
    lowest = Result(-10, 117, "measured 117 mmol/L, 21:00")
    found = limits(121, person(measured=(lowest,)))
    assert found.already_mmol_l == 4
    assert found.counted_from is lowest
    assert found.most_at(6, "rise_mmol_l_day") == 125
    assert found.most_at(14, "rise_mmol_l_day") == 125
    assert found.most_at(15, "rise_mmol_l_day") == 129
    now, after = (b for b in found.bounds() if b.value in (125, 129))
    assert (now.from_h, now.to_h, now.words) == (-10, 14, "+8 in 24 h: most now 125")
    assert (after.from_h, after.to_h, after.words) == (14, 24, "129 from 14 h on")


def test_a_limit_that_is_passed_grants_no_more_until_two_days_are_over() -> None:
    lowest = Result(-23, 114, "measured 114 mmol/L, 08:00")
    found = limits(123, person(measured=(lowest, Result(-12, 119, "measured 119 mmol/L"))))
    assert [found.most_at(hours, "rise_mmol_l_day") for hours in (0, 6, 24)] == [122, 122, 122]
    (only,) = (b for b in found.bounds() if b.value == 122)
    assert (only.from_h, only.to_h, only.words) == (-23, 24, "+8 in 24 h: most now 122")


def test_no_more_than_eighteen_is_granted_in_two_days() -> None:
    found = limits(121, person(measured=(Result(-30, 108, "measured 108 mmol/L, yesterday"),)))
    assert found.most_at(6, "rise_mmol_l_day") == 126
    assert found.most_at(19, "rise_mmol_l_day") == 129
    assert found.risks == ("sodium was 108 mmol/L",)


def test_a_fall_past_its_limit_grants_no_more_either() -> None:
    found = limits(148, person(measured=(Result(-20, 160, "measured 160 mmol/L"),)))
    assert [found.most_at(hours, "fall_mmol_l_day") for hours in (0, 24)] == [150, 150]


def test_a_high_sodium_may_fall_ten_and_a_child_s_twelve() -> None:
    assert said(limits(158)) == [("−10 in 24 h", 148)]
    assert limits(158).rule_id == "na-fall-forecast"


@pytest.mark.parametrize("condition", ["acute_hypernatraemia", "diabetes_insipidus"])
def test_no_limit_of_a_fall_where_the_rule_has_none(condition: str) -> None:
    found = limits(158, person(condition))
    assert said(found) == []
    assert condition.replace("_", " ") in found.why_none


def test_no_line_at_a_normal_sodium_but_whom_they_are_for() -> None:
    found = limits(140)
    assert said(found) == []
    assert "under 130" in found.why_none


def test_sodium_that_moves_with_glucose_has_no_limit_of_a_day() -> None:
    found = limits(122, person("diabetic_ketoacidosis"))
    assert said(found) == []
    assert "glucose" in found.why_none


def test_a_limit_changed_by_the_unit_is_the_one_that_counts() -> None:
    stricter = {**IN_FORCE["na-rise-forecast"], "rise_mmol_l_day": 5.0}
    found = day_limits(person(), 118, {**IN_FORCE, "na-rise-forecast": stricter})
    assert said(found)[0] == ("+5 in 24 h", 123)
