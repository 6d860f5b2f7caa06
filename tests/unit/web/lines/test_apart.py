"""What is kept apart: barred first, no data last and drawn as a gap."""

from app.web.lines.apart import apart_of
from tests.unit.web.lines.conftest import PlanOf


def test_pairs_without_data_come_last_and_are_a_gap(plan_of: PlanOf) -> None:
    pairs = apart_of(plan_of("25").bedside)
    signs = [pair.sign for pair in pairs]
    assert signs == sorted(signs, key=["apart", "if", "gap"].index)
    assert {pair.why for pair in pairs if pair.sign == "gap"} == {
        "Nobody has told us of these two."
    }


def test_a_pair_on_a_condition_has_its_own_sign(plan_of: PlanOf) -> None:
    signs = {pair.sign for pair in apart_of(plan_of("11").bedside)}
    assert signs == {"if", "gap"}


def test_what_must_not_both_be_given_stands_first(plan_of: PlanOf) -> None:
    first = apart_of(plan_of("20").bedside)[0]
    assert (first.one, first.other, first.sign) == ("Ceftriaxone", "parenteral nutrition", "apart")
    assert first.href == "/co-infusion?thing=ceftriaxone&thing=parenteral+nutrition"
