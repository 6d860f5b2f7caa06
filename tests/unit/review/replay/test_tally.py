"""What differs, counted and sampled."""

import json
from dataclasses import replace

from app.review.replay.answer import UNREAD, Answer, AnswerRow
from app.review.replay.tally import KEPT_OF_A_KIND, Changed, One, Tally, smallest, tally_of
from tests.unit.review.replay.conftest import water

HERE = ("", "adult ward", "day")


def row(rule_id: str, level: str = "warning", order_id: str = "o1") -> AnswerRow:
    return AnswerRow(rule_id, (order_id,), level, f"{rule_id} speaks")  # type: ignore[arg-type]


def one(before: Answer, after: Answer, number: int = 1) -> One:
    return One(water(80, number), before, after, HERE)


def test_rows_appear_vanish_and_change_level() -> None:
    before = Answer((row("stays"), row("goes"), row("rises", "info")))
    after = Answer((row("stays"), row("comes", "critical"), row("rises")))
    tally = tally_of([one(before, after)], "seed")
    assert tally.changes == {
        ("goes", "adult ward", "warning", ""): 1,
        ("comes", "adult ward", "", "critical"): 1,
        ("rises", "adult ward", "info", "warning"): 1,
    }
    told = {(r.rule_id, r.was, r.would_be): r.summary for r in tally.sample}
    assert told["goes", "warning", ""] == "goes speaks"
    assert {r.past_id for r in tally.sample} == {1}


def test_the_same_rule_on_another_order_is_another_row() -> None:
    before, after = Answer((row("one", order_id="o1"),)), Answer((row("one", order_id="o2"),))
    tally = tally_of([one(before, after)], "")
    assert sum(tally.changes.values()) == 2


def test_the_same_answers_differ_in_nothing() -> None:
    answer = Answer((row("stays"),))
    assert tally_of([one(answer, replace(answer))], "").is_nothing
    assert tally_of([one(answer, answer)], "").sample == ()


def test_what_can_no_longer_be_read_is_never_nothing() -> None:
    tally = tally_of([one(Answer(), UNREAD)], "")
    assert tally.newly_unread == 1
    assert not tally.is_nothing


def test_a_count_keeps_loud_rows_that_stand_for_people_to_look_at() -> None:
    answer = Answer((row("loud"), row("quiet", "info")))
    tally = tally_of([one(answer, answer)], "seed", every_loud_row=True)
    assert [(r.rule_id, r.was, r.would_be) for r in tally.sample] == [
        ("loud", "warning", "warning")
    ]


def test_of_each_kind_so_many_rows_are_kept_and_all_are_counted() -> None:
    goes = Answer((row("goes"),))
    many = [one(goes, Answer(), number) for number in range(KEPT_OF_A_KIND * 3)]
    tally = tally_of(many, "seed")
    assert len(tally.sample) == KEPT_OF_A_KIND
    assert tally.changes["goes", "adult ward", "warning", ""] == KEPT_OF_A_KIND * 3


def test_the_seed_decides_which_rows_are_kept() -> None:
    goes = Answer((row("goes"),))
    many = [one(goes, Answer(), number) for number in range(KEPT_OF_A_KIND * 3)]
    kept = [{r.past_id for r in tally_of(many, seed).sample} for seed in ("a", "b", "a")]
    assert kept[0] == kept[2]
    assert kept[0] != kept[1]


def test_the_sample_leans_to_no_end_of_the_list() -> None:
    """The mean place of 60 drawn from 6000 lies within 5 standard errors of the middle."""
    rows = (Changed(f"{n:x}", n, "r", ("o1",), "warning", "", "") for n in range(3))
    assert [r.past_id for r in smallest(rows, 2)] == [0, 1]
    goes = Answer((row("goes"),))
    many = [one(goes, Answer(), number) for number in range(6000)]
    drawn = [r.past_id for r in tally_of(many, "seed").sample]
    assert abs(sum(drawn) / len(drawn) - 3000) < 5 * 6000 / 12**0.5 / len(drawn) ** 0.5


def test_a_tally_survives_being_stored() -> None:
    before, after = Answer((row("goes"),)), Answer((row("comes", "critical"),))
    tally = tally_of([one(before, after), one(Answer(), UNREAD, 2)], "seed")
    assert Tally.from_document(json.loads(json.dumps(tally.as_document()))) == tally
