"""Tables that a second kind of database can hold as well."""

from datetime import datetime

import pytest
from sqlalchemy import Engine
from sqlalchemy.dialects import postgresql
from sqlalchemy.exc import StatementError
from sqlalchemy.schema import CreateTable

from app.storage.database import transaction
from app.storage.tables import Base, PatientRow, SeedRunRow


@pytest.mark.parametrize("table", Base.metadata.sorted_tables, ids=lambda table: table.name)
def test_every_table_can_be_made_in_postgresql(table: object) -> None:
    made = str(CreateTable(table).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call, arg-type]
    assert "CREATE TABLE" in made


def test_times_keep_their_zone_in_postgresql() -> None:
    made = str(CreateTable(PatientRow.__table__).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call, arg-type]
    assert "weight_taken_at TIMESTAMP WITH TIME ZONE" in made


def test_a_time_without_a_zone_is_refused(engine: Engine) -> None:
    with (
        pytest.raises(StatementError, match="without a zone"),
        transaction(engine) as session,
    ):
        session.add(SeedRunRow(at=datetime(2031, 3, 4, 7), told=[]))  # noqa: DTZ001 - meant


def test_no_table_has_room_for_a_name() -> None:
    columns = {column.name for column in PatientRow.__table__.columns}
    assert "initials" in columns
    assert not columns & {"name", "first_name", "last_name", "surname", "date_of_birth", "address"}
