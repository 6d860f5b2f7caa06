from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.catalogue.source import Source
from app.cautions.assess import Ruleset, assess_order, assess_patient
from app.cautions.rule import Finding, Limit, Limits, Rule, in_one_line
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.order import Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
CASE = Case(
    Snapshot(now=NOW),
    orders=(Order("o1", "first", None, rate_ml_h=200.0), Order("o2", "second", None)),
)


def too_fast(situation: Situation, limits: Limits) -> Iterator[Finding]:
    rate = situation.order.rate_ml_h
    if rate is None:
        raise NotKnown("rate_ml_h", "missing", "no rate is written")
    if rate > limits["rate_ml_h"]:
        yield Finding("warning", f"{rate:g} mL/h.", "Too fast.")


def two_orders(case: Case, _: Limits) -> Iterator[Finding]:
    if len(case.orders) > 1:
        yield Finding("info", "Two orders.", "Why not one?", order_ids=("o1", "o2"))


def weighs(case: Case, _: Limits) -> Iterator[Finding]:
    raise NotKnown("weight_kg", "missing", "no weight")
    yield


RATE = Rule(
    id="test-rate",
    title="Too fast",
    trigger="Over the limit.",
    unless="it is meant",
    do="Slow down.",
    evidence="None.",
    sources=(Source("a test"),),
    needs=("rate_ml_h",),
    limits=(Limit("rate_ml_h", 150, "mL/h"),),
    for_order=too_fast,
)
PAIR = replace(RATE, id="test-pair", limits=(), for_order=None, for_patient=two_orders)
WEIGHT = replace(PAIR, id="test-weight", for_patient=weighs)
LIMITS: dict[str, Limits] = {"test-rate": {"rate_ml_h": 150.0}, "test-pair": {}, "test-weight": {}}
RULESET = Ruleset.of((RATE, PAIR, WEIGHT), LIMITS)


def test_a_finding_carries_its_rule_its_order_and_the_limits_in_force() -> None:
    found = assess_order(CASE.orders[0], CASE, RULESET).found
    assert [(f.rule.id, f.finding.order_ids) for f in found] == [("test-rate", ("o1",))]
    assert found[0].limits["rate_ml_h"] == 150.0


def test_what_could_not_be_assessed_is_said_with_its_order_and_reason() -> None:
    (missing,) = assess_order(CASE.orders[1], CASE, RULESET).not_assessed
    assert (missing.rule_id, missing.needs, missing.order_id) == ("test-rate", ("rate_ml_h",), "o2")
    assert missing.detail == "no rate is written"


def test_a_patient_rule_keeps_the_orders_it_names() -> None:
    assessed = assess_patient(CASE, RULESET)
    assert [f.finding.order_ids for f in assessed.found] == [("o1", "o2")]
    assert [n.rule_id for n in assessed.not_assessed] == ["test-weight"]


def test_a_rule_may_look_at_orders_and_at_the_patient() -> None:
    both = replace(RATE, for_patient=two_orders)
    ruleset = Ruleset.of((both,), LIMITS)
    assert ruleset.order_rules == ruleset.patient_rules == (both,)


@pytest.mark.parametrize("status", ["draft", "withdrawn"])
def test_only_an_active_rule_speaks(status: str) -> None:
    silent = replace(RATE, status=status)
    ruleset = Ruleset.of((silent,), LIMITS)
    assert not assess_order(CASE.orders[0], CASE, ruleset).found


def test_another_limit_is_another_version() -> None:
    changed = Ruleset.of((RATE, PAIR, WEIGHT), {**LIMITS, "test-rate": {"rate_ml_h": 250.0}})
    assert changed.version != RULESET.version
    assert not assess_order(CASE.orders[0], CASE, changed).found


def test_the_same_rules_and_limits_are_the_same_version() -> None:
    assert Ruleset.of((RATE, PAIR, WEIGHT), LIMITS).version == RULESET.version


def test_a_few_rules_find_what_they_find_among_all() -> None:
    few = RULESET.only(["test-pair"])
    assert assess_order(CASE.orders[0], CASE, few).found == ()
    assert assess_patient(CASE, few).found == assess_patient(CASE, RULESET).found
    assert assess_patient(CASE, few).not_assessed == ()


def test_a_summary_that_quotes_long_words_is_cut_to_one_line() -> None:
    long = Finding("info", f"{'potassium as written ' * 9}.", "why")
    told = in_one_line(long)
    assert len(told.summary) <= 139 and told.summary.endswith("… .")
    assert in_one_line(told) is told


def test_advice_with_the_release_figures_never_stands_before_the_units_own_limit() -> None:
    own = Ruleset.of((RATE,), {"test-rate": {"rate_ml_h": 120.0}})
    (found,) = assess_order(CASE.orders[0], CASE, own).found
    assert found.do == (
        "This unit’s own limit counts: rate ml h 120 mL/h, where the release has 150 mL/h. "
        "Slow down."
    )


def test_advice_stands_alone_where_every_limit_is_as_shipped() -> None:
    (found,) = assess_order(CASE.orders[0], CASE, RULESET).found
    assert found.do == "Slow down."
