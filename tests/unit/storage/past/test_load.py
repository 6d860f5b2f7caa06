"""Past orders loaded: the demo's once, a unit's beds as they change."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, select

from app.intake.vocabulary import Vocabulary
from app.storage.database import reading, transaction
from app.storage.demo_files import DEMO, read_bed_file
from app.storage.past.load import keep_beds, load_invented
from app.storage.past.past import held_past, purge_past
from app.storage.past.stories import FILE
from app.storage.past.tables import PastOrderRow

UNTIL = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


@pytest.fixture
def few(tmp_path: Path) -> Path:
    """The same stories, of fewer people."""
    text = FILE.read_text(encoding="utf-8").replace("requests_a_day = 116", "requests_a_day = 3")
    path = tmp_path / "past.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_demos_past_is_loaded_once(engine: Engine, few: Path) -> None:
    for expected in (90, 0):
        with transaction(engine) as session:
            assert load_invented(session, UNTIL, few) == expected
    with reading(engine) as session:
        assert set(session.scalars(select(PastOrderRow.invented))) == {True}
        assert held_past(session).requests == 90


def test_what_retention_took_away_stays_away(engine: Engine, few: Path) -> None:
    with transaction(engine) as session:
        load_invented(session, UNTIL, few)
        purge_past(session, UNTIL - timedelta(days=1))
    with transaction(engine) as session:
        assert load_invented(session, UNTIL, few) == 0


def test_a_bed_is_kept_again_only_when_it_has_changed(
    engine: Engine, vocabulary: Vocabulary
) -> None:
    beds = [read_bed_file(path).bed for path in sorted((DEMO / "patients").glob("*.toml"))]
    with_orders = sum(bool(bed.request.get("orders")) for bed in beds)
    with transaction(engine) as session:
        assert keep_beds(session, beds, UNTIL, vocabulary) == with_orders
        assert keep_beds(session, beds, UNTIL + timedelta(hours=1), vocabulary) == 0
        orders = [{**beds[0].request["orders"][0], "rate_ml_h": 41}]
        changed = replace(beds[0], request={**beds[0].request, "orders": orders})
        assert keep_beds(session, [changed], UNTIL, vocabulary) == 1
        invented = session.scalars(select(PastOrderRow.invented)).all()
    assert not any(invented)
