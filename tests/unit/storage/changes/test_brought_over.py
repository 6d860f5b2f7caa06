"""A unit that ran an earlier release keeps its catalogue and the limits it had changed."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import Engine, text

from app.catalogue.changes.change import LimitValue
from app.review.knowledge import Knowledge
from app.storage.changes.records import read_history
from app.storage.changes.versions import read_versions
from app.storage.database import connect, migrate, migration_config, reading
from tests.changing import LIMIT, RULE

LOADED_AT = datetime(2026, 1, 5, 9, 0, tzinfo=UTC)
DOCUMENT = {
    "id": "dextrose-5", "name": "5% dextrose", "kind": "crystalloid",
    "composition_g_l": {"glucose": 50, "glucose_basis": "monohydrate"},
    "source": [{"work": "label", "seen": True}],
}  # fmt: skip


@pytest.fixture
def earlier(tmp_path: Path) -> Iterator[Engine]:
    """A database of the release before: one fluid, one limit changed twice."""
    engine = connect(f"sqlite:///{tmp_path / 'old.db'}")
    with engine.begin() as connection:
        command.upgrade(migration_config(connection), "0007")
        connection.execute(
            text("INSERT INTO fluid VALUES ('dextrose-5', :document, 'abc', :at)"),
            {"document": json.dumps(DOCUMENT), "at": "2026-01-05 09:00:00.000000"},
        )
        connection.execute(
            text("INSERT INTO unit VALUES ('w', 'Ward', 'Europe/Berlin', NULL, 'abc')")
        )
        for value, day in ((6.0, "2026-01-10"), (5.8, "2026-02-10")):
            connection.execute(
                text(
                    "INSERT INTO limit_change (rule_id, name, value, from_day, reason, by) "
                    "VALUES (:rule, :name, :value, :day, 'kidney unit', 'J.B.')"
                ),
                {"rule": RULE, "name": LIMIT, "value": value, "day": day},
            )
    yield engine
    engine.dispose()


def test_fluids_and_limits_come_over_with_their_days_and_names(earlier: Engine) -> None:
    migrate(earlier)
    with reading(earlier) as session:
        (version,) = read_versions(session)
        first, second = read_history(session).filed
        limits = [
            Knowledge.at(session, moment).ruleset.limits[RULE][LIMIT]
            for moment in (
                datetime(2026, 1, 9, 22, 59, tzinfo=UTC),
                datetime(2026, 1, 9, 23, 0, tzinfo=UTC),
                datetime(2026, 2, 11, tzinfo=UTC),
            )
        ]
        known = Knowledge.at(session, LOADED_AT)
    assert (version.document, version.from_at) == (DOCUMENT, LOADED_AT)
    assert [fluid.id for fluid in known.catalogue] == ["dextrose-5"]
    assert limits == [5.5, 6.0, 5.8]
    assert first.change.content == LimitValue(RULE, LIMIT, 6.0)
    assert (first.change.reason, first.change.drafted.name) == ("kidney unit", "J.B.")
    assert [one.reason for one in second.decisions] == ["brought over from an earlier release"]


def test_taking_the_migration_back_keeps_what_counts(earlier: Engine) -> None:
    migrate(earlier)
    with earlier.begin() as connection:
        command.downgrade(migration_config(connection), "0007")
        fluids = connection.execute(text("SELECT id, document FROM fluid")).all()
        limits = connection.execute(text("SELECT value, by FROM limit_change ORDER BY id")).all()
    assert [(key, json.loads(document)) for key, document in fluids] == [("dextrose-5", DOCUMENT)]
    assert [tuple(row) for row in limits] == [(6.0, "J.B."), (5.8, "J.B.")]
