import pytest

from app.catalogue.changes.change import LimitValue
from app.catalogue.entry import EntryError
from app.cautions.limits import crossed, limit_value_from, limits_in_force, span_of
from app.cautions.registry import RULE_BY_ID, RULES

HIGH = "potassium_high_mmol_l"
LIMIT = next(limit for limit in RULE_BY_ID["k-hyper"].limits if limit.name == HIGH)


def in_force(*local: LimitValue) -> float:
    return limits_in_force(RULES, local)["k-hyper"][HIGH]


def test_without_changes_the_shipped_limits_hold() -> None:
    shipped = {limit.name: limit.value for limit in RULE_BY_ID["k-hyper"].limits}
    assert limits_in_force(RULES)["k-hyper"] == shipped


def test_a_value_of_the_hospital_holds_and_none_of_its_own_is_the_shipped_one() -> None:
    assert in_force(LimitValue("k-hyper", HIGH, 6.0)) == 6.0
    assert in_force(LimitValue("k-hyper", HIGH, None)) == 5.5


def test_a_limit_or_rule_that_is_gone_is_left_alone() -> None:
    gone, other = LimitValue("k-hyper", "no_such_limit", 1.0), LimitValue("no-such", HIGH, 1.0)
    assert in_force(gone, other) == 5.5
    assert "no-such" not in limits_in_force(RULES, (other,))


@pytest.mark.parametrize(
    ("written", "value"), [("5.2", 5.2), (" 5.2 mmol/L ", 5.2), ("6", 6.0), ("0.55", 0.55)]
)
def test_a_value_is_read_with_or_without_its_unit(written: str, value: float) -> None:
    assert limit_value_from(written, LIMIT, 5.5) == value


@pytest.mark.parametrize(
    "written", ["", "five", "-5", "nan", "inf", "1e400", "0", "0.5", "56", "5,2", "5.2 mg/dL"]
)
def test_what_makes_no_sense_is_refused_with_what_is_accepted(written: str) -> None:
    with pytest.raises(EntryError) as told:
        limit_value_from(written, LIMIT, 5.5)
    assert told.value.field == "value"
    assert told.value.value == written
    assert "from 0.55 to 55 mmol/L" in told.value.accepted


def test_the_value_in_force_is_no_change() -> None:
    with pytest.raises(EntryError, match="another value"):
        limit_value_from("5.5", LIMIT, 5.5)
    assert limit_value_from("5.5", LIMIT, 6.0) == 5.5


def test_no_limit_of_the_release_lies_outside_what_is_accepted_for_it() -> None:
    for rule in RULES:
        for limit in rule.limits:
            least, most = span_of(limit)
            assert least <= limit.value <= most, (rule.id, limit.name)
            assert least < most


def test_a_share_never_exceeds_the_whole() -> None:
    shares = [limit for rule in RULES for limit in rule.limits if limit.unit == "of body weight"]
    assert shares
    assert all(span_of(limit)[1] <= 1 for limit in shares)


RATE = RULE_BY_ID["k-rate"]


@pytest.mark.parametrize(
    ("name", "value", "wrong"),
    [
        ("adult_most_mmol_h", 100.0, {("adult_extreme_mmol_h", True)}),
        ("adult_most_mmol_h", 5.0, {("adult_usual_mmol_h", False)}),
        ("adult_most_mmol_h", 15.0, set()),
        ("adult_usual_mmol_h", 50.0, {("adult_most_mmol_h", True), ("adult_extreme_mmol_h", True)}),
        ("child_most_mmol_kg_h", 0.3, set()),
        ("no_such_limit", 1.0, set()),
    ],
)
def test_a_limit_that_passes_another_of_the_same_thing_is_doubted(
    name: str, value: float, wrong: set[tuple[str, bool]]
) -> None:
    found = crossed(RATE, name, value, limits_in_force(RULES)["k-rate"])
    assert {(limit.name, above) for limit, above in found} == wrong


def test_the_other_limit_counts_as_it_stands_here() -> None:
    own = limits_in_force(RULES, [LimitValue("k-rate", "adult_extreme_mmol_h", 60.0)])["k-rate"]
    assert crossed(RATE, "adult_most_mmol_h", 50.0, own) == ()


def test_nothing_is_doubted_of_what_is_shipped() -> None:
    for rule in RULES:
        own = limits_in_force(RULES)[rule.id]
        assert not any(crossed(rule, limit.name, limit.value, own) for limit in rule.limits)
