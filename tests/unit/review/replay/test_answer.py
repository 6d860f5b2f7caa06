"""A review as rows."""

from dataclasses import replace

from app.review.assess import review
from app.review.knowledge import Knowledge
from app.review.replay.answer import UNREAD, Past, answer_of, rank_of
from app.review.replay.twice import answer_with, case_of
from tests.unit.review.replay.conftest import AT, water


def test_each_rule_is_one_row_of_the_orders_it_speaks_of(known: Knowledge) -> None:
    answer = answer_with(water(110), known)
    rows = {row.rule_id: row for row in answer.rows}
    assert rows["ord-water-total"].order_ids == ("o1",)
    assert rows["ord-water-total"].level == "warning"
    assert len({row.key for row in answer.rows}) == len(answer.rows)


def test_a_rule_that_speaks_twice_of_an_order_counts_once_at_its_worst(known: Knowledge) -> None:
    case = case_of(water(110), known)
    assert case is not None
    reviewed = review(case, known.ruleset)
    quieter = replace(reviewed.patient_found[0], finding=reviewed.patient_found[0].finding)
    again = replace(reviewed, patient_found=(*reviewed.patient_found, quieter))
    assert answer_of(again).rows == answer_of(reviewed).rows


def test_what_could_not_be_assessed_is_counted_and_not_taken_for_nothing(known: Knowledge) -> None:
    bare = water(110, patient={"age_years": 50})
    assert answer_with(bare, known).not_assessed > answer_with(water(110), known).not_assessed


def test_a_request_that_cannot_be_read_says_so(known: Knowledge) -> None:
    wrong = water(110, patient={"weight_kg": "seventy-ish"})
    assert answer_with(wrong, known) is UNREAD
    assert not UNREAD.is_read


def test_orders_are_counted_as_written() -> None:
    assert water(110).orders == 1
    assert Past(1, AT, {"orders": None}).orders == 0


def test_no_row_ranks_after_info() -> None:
    ranks = [rank_of(level) for level in ("critical", "warning", "info", "")]
    assert ranks == [0, 1, 2, 3]
