"""What a rule's own worked examples would say under a change."""

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.review.changes.applied import knowledge_with
from app.review.changes.examples import outcome, tried, tried_on
from app.review.knowledge import shipped
from app.web.rules import all_examples
from tests.changing import LIMIT, RULE, change
from tests.unit.review.changes.conftest import NOW


def test_with_what_is_shipped_every_example_says_what_it_promises() -> None:
    for example in all_examples():
        if example.rule in (RULE, "na-rise-forecast"):
            assert outcome(example, shipped()) == example.expect, example.title


def test_a_higher_limit_silences_what_lay_between() -> None:
    higher = knowledge_with(shipped(), change(LimitValue(RULE, LIMIT, 5.8), NOW))
    told = tried(RULE, all_examples(), shipped(), higher)
    assert told.count == sum(example.rule == RULE for example in all_examples())
    assert 0 < len(told.otherwise) < told.count
    assert {"critical", "nothing"} <= {w for one in told.otherwise for w in (one.before, one.after)}


def test_nothing_changes_where_nothing_is_changed() -> None:
    assert tried(RULE, all_examples(), shipped(), shipped()).otherwise == ()


def test_a_rule_that_is_off_says_nothing() -> None:
    off = knowledge_with(shipped(), change(RuleSwitch(RULE, on=False), NOW))
    assert {outcome(e, off) for e in all_examples() if e.rule == RULE} == {"nothing"}


def test_examples_said_at_critical_that_fall_silent_are_counted() -> None:
    off = change(RuleSwitch(RULE, on=False), NOW)
    told = tried_on(off, all_examples(), shipped())
    said = [e for e in all_examples() if e.rule == RULE and e.expect == "critical"]
    assert told.critical_lost == len(said) > 0
    assert tried(RULE, all_examples(), shipped(), shipped()).critical_lost == 0


def test_a_fluids_entry_has_no_examples_of_its_own() -> None:
    assert tried_on(change(FluidEntry("x", None), NOW), all_examples(), shipped()).count == 0
