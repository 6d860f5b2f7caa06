"""What a run compares."""

from datetime import UTC, date, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import Change, LimitValue, Signature
from app.review.replay.asked import (
    change_of,
    in_force,
    terms_of_count,
    terms_of_replay,
    with_change,
)
from app.storage.changes.records import add_change
from app.storage.database import reading, transaction
from app.storage.seed import seed

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture
def change_id(engine: Engine) -> int:
    """A drafted limit in a loaded demo unit."""
    signed = Signature("a1", "R. Alder", True, NOW)
    content = LimitValue("ord-water-total", "excess_ml_kg_day", 31.0)
    change = Change(content, "too loud", NOW + timedelta(days=1), date(2027, 1, 1), signed)
    with transaction(engine) as session:
        seed(session, now=NOW - timedelta(days=1), demo=True)
        return add_change(session, change)


def test_a_draft_is_held_against_what_is_in_force(engine: Engine, change_id: int) -> None:
    with reading(engine) as session:
        change = change_of(session, change_id)
        assert change is not None
        two = with_change(session, change, NOW)
    limits = [
        known.ruleset.limits["ord-water-total"]["excess_ml_kg_day"]
        for known in (two.before, two.after)
    ]
    assert limits == [35, 31]
    assert two.versions["before"]["knowledge"] != two.versions["after"]["knowledge"]
    assert two.versions["before"]["catalogue"] == two.versions["after"]["catalogue"]


def test_there_is_no_change_of_a_number_nobody_gave(engine: Engine) -> None:
    with reading(engine) as session:
        assert change_of(session, 7) is None


@pytest.mark.usefixtures("change_id")
def test_a_count_has_one_state_of_knowledge_and_tells_days_apart(engine: Engine) -> None:
    with reading(engine) as session:
        two = in_force(session, NOW)
        count, replay = terms_of_count(session, "s"), terms_of_replay(session, "s")
    assert two.before is two.after
    assert (count.by_day, count.every_loud_row, count.zone) == (True, True, "Europe/Lisbon")
    assert (replay.by_day, replay.every_loud_row, replay.seed) == (False, False, "s")
