"""Two states of knowledge: what is done once must come out as if it were done twice."""

from dataclasses import replace

import pytest

from app.intake.vocabulary import Vocabulary
from app.review.knowledge import Knowledge
from app.review.replay import twice as module
from app.review.replay.answer import Past
from app.review.replay.twice import Twice, answer_with, differing
from tests.unit.review.replay.conftest import WithLimit, water

CHANGES = ("limit", "fluid", "off", "words")


@pytest.fixture(params=CHANGES)
def after(
    request: pytest.FixtureRequest,
    known: Knowledge,
    with_limit: WithLimit,
    without_saline: Knowledge,
    without_rule: Knowledge,
) -> Knowledge:
    """Each kind of change."""
    words = replace(known, vocabulary=Vocabulary.of(known.vocabulary.tables))
    limit = with_limit("ord-water-total", "excess_ml_kg_day", 26)
    kinds = {"limit": limit, "fluid": without_saline, "off": without_rule, "words": words}
    return kinds[request.param]


def test_both_answers_are_those_of_two_whole_reviews(
    known: Knowledge, after: Knowledge, month: tuple[Past, ...]
) -> None:
    twice = Twice.of(known, after)
    for past in month:
        before, then = twice.answers(past)
        whole = answer_with(past, after)
        assert before == answer_with(past, known)
        assert [(r.key, r.level) for r in then.rows] == [(r.key, r.level) for r in whole.rows]
        assert (then.not_assessed, then.is_read) == (whole.not_assessed, whole.is_read)


def test_only_the_rules_that_differ_are_asked_again(
    known: Knowledge, with_limit: WithLimit, monkeypatch: pytest.MonkeyPatch
) -> None:
    reviewed: list[object] = []
    real = module.review

    def counted(case: object, ruleset: object) -> object:
        reviewed.append(ruleset)
        return real(case, ruleset)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "review", counted)
    other = with_limit("ord-water-total", "excess_ml_kg_day", 34)
    twice = Twice.of(known, other)
    twice.answers(water(60))
    assert reviewed == [known.ruleset]
    twice.answers(water(101))  # 34.6 mL/kg a day: info before, a warning after
    assert reviewed == [known.ruleset, known.ruleset, other.ruleset]


def test_a_changed_limit_a_switch_and_nothing_are_told_apart(
    known: Knowledge, with_limit: WithLimit, without_rule: Knowledge
) -> None:
    other = with_limit("ord-water-total", "excess_ml_kg_day", 34)
    assert differing(known.ruleset, other.ruleset) == {"ord-water-total"}
    assert differing(known.ruleset, without_rule.ruleset) == {"ord-water-total"}
    assert differing(known.ruleset, known.ruleset) == frozenset()


def test_a_fluid_that_goes_leaves_its_orders_asked_about(
    known: Knowledge, without_saline: Knowledge
) -> None:
    orders = [{"id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 83}]
    before, after = Twice.of(known, without_saline).answers(water(0, orders=orders))
    assert "order-ambiguous" not in {row.rule_id for row in before.rows}
    assert "order-ambiguous" in {row.rule_id for row in after.rows}
