"""What reviews are made with, from the files and from the database."""

from datetime import UTC, date, datetime

import pytest
from sqlalchemy import Engine

from app.cautions.limits import LimitChange
from app.cautions.registry import RULES
from app.review.knowledge import Knowledge
from app.storage.changes.limits import add_limit_change
from app.storage.database import reading, transaction
from app.storage.seed import seed

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
RULE = next(rule for rule in RULES if rule.limits)
LIMIT = RULE.limits[0]


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed(session, now=NOW, demo=False)
    return engine


def change(engine: Engine, value: float, day: date) -> None:
    with transaction(engine) as session:
        add_limit_change(session, LimitChange(RULE.id, LIMIT.name, value, day, "local", "J.B."))


def from_database(engine: Engine, day: date) -> Knowledge:
    with reading(engine) as session:
        return Knowledge.from_database(session, on=day)


def test_files_and_database_tell_the_same(loaded: Engine) -> None:
    seeded, stored = Knowledge.from_seed(), from_database(loaded, NOW.date())
    assert stored.catalogue == seeded.catalogue
    assert stored.plasma == seeded.plasma
    assert stored.ruleset.version == seeded.ruleset.version
    assert stored.version == seeded.version


def test_a_local_limit_holds_from_its_day_on_and_makes_another_version(loaded: Engine) -> None:
    changed = LIMIT.value + 1
    change(loaded, changed, date(2031, 3, 4))
    before, after = (from_database(loaded, date(2031, 3, day)) for day in (3, 4))
    assert before.ruleset.limits[RULE.id][LIMIT.name] == LIMIT.value
    assert after.ruleset.limits[RULE.id][LIMIT.name] == changed
    assert before.version != after.version


def test_an_empty_database_has_an_empty_catalogue_and_says_so_by_version(engine: Engine) -> None:
    stored = from_database(engine, NOW.date())
    assert len(stored.catalogue) == 0
    assert stored.version != Knowledge.from_seed().version
