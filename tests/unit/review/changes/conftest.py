"""A unit with a catalogue and no patient, that each test alone changes."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine

from app.storage.database import transaction
from app.storage.seed import seed

NOW = datetime(2026, 2, 1, 12, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    """The release's catalogue, loaded a month before."""
    with transaction(engine) as session:
        seed(session, now=NOW - 30 * DAY, demo=False)
    return engine
