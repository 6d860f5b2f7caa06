"""Samples and marks."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, delete, update
from sqlalchemy.exc import DBAPIError

from app.storage.database import reading, transaction
from app.storage.replays import jobs
from app.storage.replays.jobs import Asked
from app.storage.samples.samples import (
    Drawn,
    Item,
    Mark,
    MarkedAlready,
    Verdict,
    add_mark,
    add_sample,
    read_item,
    read_items,
    read_sample,
    read_samples,
)
from app.storage.samples.tables import SampleMarkRow

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def item(past_id: int) -> dict[str, object]:
    return {
        "past_id": past_id, "rule_id": "k-hyper", "order_ids": ["o1"], "level": "critical",
        "told": {"title": "Potassium 6.1", "why": "at 05:40", "do": "stop"},
    }  # fmt: skip


def mark(who: str, verdict: Verdict = "useful") -> Mark:
    return Mark(verdict, "because", NOW, f"Person {who}", who)


@pytest.fixture
def sample_id(engine: Engine) -> int:
    with transaction(engine) as session:
        count = jobs.ask(session, Asked(NOW, "R. Alder", "a1", "s"))
        drawn = Drawn(count, "seed", "", NOW, "R. Alder", "a1", (item(7), item(9)))
        return add_sample(session, drawn)


def put(engine: Engine, sample_id: int, number: int, *marks: Mark) -> Item:
    with transaction(engine) as session:
        found = read_item(session, sample_id, number)
        assert found is not None
        for one in marks:
            add_mark(session, found.id, one)
        again = read_item(session, sample_id, number)
    assert again is not None
    return again


def test_a_sample_keeps_its_seed_and_its_order(engine: Engine, sample_id: int) -> None:
    with reading(engine) as session:
        sample = read_sample(session, sample_id)
        assert read_sample(session, 99) is None
        assert read_item(session, sample_id, 3) is None
    assert sample is not None
    assert (sample.seed, [i.past_id for i in sample.items]) == ("seed", [7, 9])
    assert [i.number for i in sample.items] == [1, 2]
    assert sample.items[0].told["title"] == "Potassium 6.1"


def test_two_people_mark_each_finding_once(engine: Engine, sample_id: int) -> None:
    once = put(engine, sample_id, 1, mark("a"))
    assert not once.is_marked
    assert once.mark_of("a") is not None
    assert (once.may_be_marked_by("a"), once.may_be_marked_by("b")) == (False, True)
    both = put(engine, sample_id, 1, mark("b", "wrong"))
    assert both.is_marked
    assert [m.verdict for m in both.marks] == ["useful", "wrong"]
    assert not both.may_be_marked_by("c")


def test_nobody_marks_twice_and_no_third_person_marks(engine: Engine, sample_id: int) -> None:
    put(engine, sample_id, 1, mark("a"))
    with pytest.raises(MarkedAlready, match="marked by you already"):
        put(engine, sample_id, 1, mark("a", "wrong"))
    put(engine, sample_id, 1, mark("b"))
    with pytest.raises(MarkedAlready):
        put(engine, sample_id, 1, mark("c"))


def test_what_was_said_stands(engine: Engine, sample_id: int) -> None:
    put(engine, sample_id, 1, mark("a"))
    for edit in (update(SampleMarkRow).values(verdict="wrong"), delete(SampleMarkRow)):
        with pytest.raises(DBAPIError, match="stands"), transaction(engine) as session:
            session.execute(edit)


def test_how_far_each_sample_is(engine: Engine, sample_id: int) -> None:
    put(engine, sample_id, 1, mark("a"), mark("b"))
    put(engine, sample_id, 2, mark("a"))
    with reading(engine) as session:
        found = read_samples(session)
        items = read_items(session)
    assert [(s.id, number, marked) for s, number, marked in found] == [(sample_id, 2, 1)]
    assert [len(i.marks) for i in items] == [2, 1]
