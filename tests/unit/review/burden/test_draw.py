"""A sample drawn by chance."""

from app.review.burden.draw import LARGEST, as_item, drawn, rules_in
from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.review.replay.compare import Terms, compare
from tests.unit.review.replay.conftest import water

SEEDED = Terms(seed="a", every_loud_row=True)


def many() -> list[Past]:
    return [water(110 + number, number) for number in range(80)]


def test_the_same_seed_draws_the_same_and_another_draws_others(known: Knowledge) -> None:
    seeds = (SEEDED, SEEDED, Terms(seed="b", every_loud_row=True))
    kept = [
        [row.past_id for row in drawn(compare(known, known, many(), terms), 10)] for terms in seeds
    ]
    assert kept[0] == kept[1]
    assert kept[0] != kept[2]
    assert len(set(kept[0])) == 10


def test_a_smaller_sample_is_the_beginning_of_a_larger_one(known: Knowledge) -> None:
    tally = compare(known, known, many(), SEEDED)
    assert drawn(tally, 10) == drawn(tally, LARGEST)[:10]


def test_one_rule_alone(known: Knowledge) -> None:
    tally = compare(known, known, many(), SEEDED)
    assert {row.rule_id for row in drawn(tally, 10, "ord-water-total")} == {"ord-water-total"}
    assert drawn(tally, 10, "k-hyper") == ()
    assert rules_in(tally.sample)["ord-water-total"] > 0


def test_what_was_shown_is_kept_with_it(known: Knowledge) -> None:
    tally = compare(known, known, many(), SEEDED)
    row = next(row for row in tally.sample if row.rule_id == "ord-water-total")
    past = next(past for past in many() if past.id == row.past_id)
    item = as_item(row, past, known)
    assert item is not None
    assert item["told"]["title"] == row.summary
    assert item["told"]["do"]
    assert item["level"] == "warning"


def test_what_is_shown_no_more_is_not_sampled(known: Knowledge, without_rule: Knowledge) -> None:
    tally = compare(known, known, many(), SEEDED)
    row = next(row for row in tally.sample if row.rule_id == "ord-water-total")
    assert as_item(row, water(120), without_rule) is None
    assert as_item(row, water(110, patient={"weight_kg": "?"}), known) is None
