"""Knowledge sent to another process."""

from dataclasses import replace

import pytest

from app.cautions.assess import Ruleset
from app.cautions.registry import RULES
from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.review.replay.compare import compare
from app.review.replay.packed import pack, rule_like, unpack
from tests.unit.review.replay.conftest import WithLimit


def test_knowledge_comes_out_as_it_went_in(known: Knowledge, with_limit: WithLimit) -> None:
    other = with_limit("ord-water-total", "excess_ml_kg_day", 31)
    before, after = unpack(pack(known, other))
    for sent, came in ((known, before), (other, after)):
        assert came.ruleset == sent.ruleset
        assert came.catalogue == sent.catalogue
        assert came.pairs == sent.pairs
        assert came.vocabulary.tables == sent.vocabulary.tables


def test_what_both_share_is_opened_once(known: Knowledge, with_limit: WithLimit) -> None:
    before, after = unpack(pack(known, with_limit("ord-water-total", "excess_ml_kg_day", 31)))
    assert before.vocabulary is after.vocabulary
    before, after = unpack(pack(known, known))
    assert before is after


def test_a_rule_that_is_otherwise_here_stays_otherwise(known: Knowledge) -> None:
    draft = replace(RULES[0], title="Another title")
    other = known.having(ruleset=Ruleset.of((draft,), known.ruleset.limits))
    _, after = unpack(pack(known, other))
    assert [rule.title for rule in (*after.ruleset.order_rules, *after.ruleset.patient_rules)][
        :1
    ] == ["Another title"]
    assert rule_like(RULES[0].id, {}) is RULES[0]


def test_a_rule_the_release_does_not_know_is_refused(known: Knowledge) -> None:
    strange = replace(RULES[0], id="nobody-knows")
    limits = {**known.ruleset.limits, "nobody-knows": {}}
    with pytest.raises(KeyError):
        pack(known, known.having(ruleset=Ruleset.of((strange,), limits)))


def test_what_was_sent_answers_the_same(
    known: Knowledge, without_saline: Knowledge, month: tuple[Past, ...]
) -> None:
    sent = unpack(pack(known, without_saline))
    assert compare(*sent, month[:60]) == compare(known, without_saline, month[:60])
