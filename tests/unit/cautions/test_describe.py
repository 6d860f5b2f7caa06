import pytest

from app.catalogue.source import NO_SOURCE, Source
from app.cautions.describe import (
    FROM_MEMORY,
    SEEN,
    WHOM,
    described,
    need_text,
    own_limits_first,
    source_text,
)
from app.cautions.registry import RULE_BY_ID, RULES
from app.cautions.rule import Rule


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_has_a_full_reference_text(rule: Rule) -> None:
    text = described(rule)
    assert text.title and text.trigger and text.unless and text.do and text.evidence
    assert text.whom in WHOM.values()
    assert len(text.limits) == len(rule.limits)
    assert len(text.sources) == len(rule.sources)
    assert not any(limit.changed for limit in text.limits)


def test_a_limit_is_told_with_value_unit_and_source() -> None:
    (high, *_) = described(RULE_BY_ID["k-hyper"]).limits
    assert (high.value, high.meaning) == ("5.5 mmol/L", "plasma potassium that is high")
    assert FROM_MEMORY in high.source


def test_a_local_limit_stands_beside_the_shipped_one() -> None:
    rule = RULE_BY_ID["k-hyper"]
    in_force = {limit.name: limit.value for limit in rule.limits} | {"potassium_high_mmol_l": 6.0}
    (high, *_) = described(rule, in_force).limits
    assert (high.value, high.shipped, high.changed) == ("6 mmol/L", "5.5 mmol/L", True)


def test_a_rule_of_practice_is_not_dressed_up_as_a_source() -> None:
    assert source_text(Source(NO_SOURCE)).text == NO_SOURCE
    assert source_text(Source(NO_SOURCE)).seen == NO_SOURCE


def test_a_source_says_whether_its_text_was_seen() -> None:
    assert source_text(Source("A work", "table 2", seen=True)).seen == SEEN
    assert source_text(Source("A work", "table 2")).seen == FROM_MEMORY
    assert source_text(Source("A work", "table 2", note="secondary")).text == (
        "A work, table 2, secondary"
    )


def test_needs_are_told_in_plain_words() -> None:
    assert need_text("weight_kg") == "weight"
    assert need_text("potassium") == "potassium"
    assert need_text("calcium_ionised") == "ionised calcium"


def test_every_limit_of_the_units_own_is_told_beside_the_release() -> None:
    rule = RULE_BY_ID["k-rate"]
    shipped = {limit.name: limit.value for limit in rule.limits}
    own = shipped | {"adult_usual_mmol_h": 8.0, "adult_most_mmol_h": 15.0}
    assert own_limits_first(rule, shipped) == ""
    assert own_limits_first(rule, own) == (
        "This unit’s own limits count: most without ECG monitoring 8 mmol/h, where the release "
        "has 10 mmol/h; most with ECG monitoring 15 mmol/h, where the release has 20 mmol/h."
    )
