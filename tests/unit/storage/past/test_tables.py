"""The table of past orders."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import IntegrityError, StatementError

from app.storage.database import transaction
from app.storage.past.tables import PastOrderRow

AT = datetime(2031, 3, 4, 7, tzinfo=UTC)


def row(sha256: str, at: datetime = AT) -> PastOrderRow:
    return PastOrderRow(
        sha256=sha256, at=at, setting="ICU", orders=1, invented=False, request={"orders": [{}]}
    )


def test_the_database_itself_keeps_a_request_once(engine: Engine) -> None:
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add_all([row("a"), row("a")])


def test_a_moment_without_its_zone_is_not_kept(engine: Engine) -> None:
    with pytest.raises(StatementError, match="without a zone"), transaction(engine) as session:
        session.add(row("a", AT.replace(tzinfo=None)))
