"""Nothing of a patient who is gone stays in any table or in the file; content and acts do."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select, text, update

from app.patient.lumen_told import LumenTold
from app.storage.all_tables import Base
from app.storage.audit.tables import TrailRow
from app.storage.changes.tables import FluidVersionRow
from app.storage.database import connect, migrate, reading, transaction
from app.storage.lines.told import tell_lumen
from app.storage.past.past import keep_past
from app.storage.patients import read_beds
from app.storage.people.tables import AccountRow, AttemptRow, SessionRow
from app.storage.retention.purge import Purged, leave_nothing, purge
from app.storage.seed import seed
from app.storage.tables import (
    CoInfusionRow,
    LumenRow,
    LumenToldRow,
    ObservationRow,
    OrderRow,
    PatientRow,
    StockRow,
    UnitRow,
)

# The demo unit stands still at this day; long after it, all of its patients are gone.
THEN = datetime(2031, 3, 4, 7, tzinfo=UTC)
LONG_AFTER = THEN + timedelta(days=90)
PATIENTS = (PatientRow, ObservationRow, LumenRow, OrderRow, CoInfusionRow, LumenToldRow)
LONG_ENOUGH = 12
NOTHING = Purged(0, 0, 0, 0, 0, 0, 0)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "unit.db"


@pytest.fixture
def unit(file: Path) -> Iterator[Engine]:
    """The demo unit, made to follow the clock, with a lumen told of and a past request."""
    engine = connect(f"sqlite:///{file}")
    migrate(engine)
    with transaction(engine) as session:
        seed(session, now=datetime(2026, 1, 1, tzinfo=UTC), demo=True)
        session.execute(update(UnitRow).values(fixed_now=None))
        for bed in read_beds(session, session.scalar(select(UnitRow.id)) or ""):
            tell_lumen(session, bed.patient_id, LumenTold("left hand", "failed", THEN, "J.B."))
        keep_past(session, [(THEN, {"orders": [{"id": "o1", "order_text": "an old request"}]})])
    yield engine
    engine.dispose()


def words_of_patients(engine: Engine) -> set[str]:
    """Everything written of patients that is long enough to be told apart, and their ids."""
    words: set[str] = set()
    with reading(engine) as session:
        for table in (PatientRow, ObservationRow, OrderRow, CoInfusionRow):
            for row in session.execute(select(*table.__table__.columns)).mappings():
                for value in row.values():
                    parts = value if isinstance(value, list) else [value]
                    words |= {part for part in parts if isinstance(part, str)}
        ids = set(session.scalars(select(PatientRow.id)))
        units = set(session.scalars(select(UnitRow.id)))
        content = " ".join(
            session.scalars(select(TrailRow.after).where(TrailRow.after.is_not(None)))
        )
    # A fluid's name and the like is content, whoever it was ordered for.
    long = {w for w in words if len(w) >= LONG_ENOUGH and w not in content}
    return (long | ids) - units


def count(engine: Engine, table: type[Base]) -> int:
    with reading(engine) as session:
        return session.scalar(select(func.count()).select_from(table)) or 0


def purged(engine: Engine, before: datetime) -> Purged:
    with transaction(engine) as session:
        return purge(session, before)


def test_a_patient_of_whom_nothing_was_heard_is_gone_from_every_table(unit: Engine) -> None:
    words, patients = words_of_patients(unit), count(unit, PatientRow)
    assert patients > 10
    assert len(words) > 100
    done = purged(unit, LONG_AFTER)
    assert (done.patients, done.lumens, done.past) == (patients, patients, 1)
    assert [count(unit, table) for table in PATIENTS] == [0] * len(PATIENTS)
    with reading(unit) as session:
        for table in Base.metadata.sorted_tables:
            for row in session.execute(select(table)):
                held = " ".join(map(str, row))
                assert [word for word in words if word in held] == [], table.name


def test_nothing_of_them_is_left_in_the_file(unit: Engine, file: Path) -> None:
    words = words_of_patients(unit)
    purged(unit, LONG_AFTER)
    leave_nothing(unit)
    beside = [path for path in file.parent.iterdir() if path.name.startswith(file.name)]
    held = b"".join(path.read_bytes() for path in beside)
    assert [word for word in words if word.encode() in held] == []
    assert b"an old request" not in held


def test_content_and_acts_stay(unit: Engine) -> None:
    kept = (FluidVersionRow, TrailRow, StockRow, UnitRow)
    before = [count(unit, table) for table in kept]
    assert all(before)
    purged(unit, LONG_AFTER)
    assert [count(unit, table) for table in kept] == before


def test_patients_who_were_heard_of_since_stay(unit: Engine) -> None:
    assert purged(unit, datetime(2026, 1, 1, tzinfo=UTC)) == NOTHING
    assert count(unit, LumenToldRow) == count(unit, PatientRow)


def test_patients_of_a_unit_that_stands_still_stay(unit: Engine) -> None:
    with transaction(unit) as session:
        session.execute(update(UnitRow).values(fixed_now=THEN))
    patients = count(unit, PatientRow)
    assert purged(unit, LONG_AFTER).patients == 0
    assert count(unit, PatientRow) == patients


def test_a_patient_without_any_date_stays_and_is_counted(unit: Engine) -> None:
    with transaction(unit) as session:
        one = session.scalar(select(func.min(PatientRow.id)))
        session.execute(update(PatientRow).where(PatientRow.id == one).values(weight_taken_at=None))
        session.execute(
            text("UPDATE observation SET taken_at = NULL WHERE patient_id = :p"), {"p": one}
        )
        session.execute(
            text(
                "UPDATE infusion_order SET starts_at = NULL, review_at = NULL WHERE patient_id = :p"
            ),
            {"p": one},
        )
    done = purged(unit, LONG_AFTER)
    assert done.undated == 1
    assert count(unit, PatientRow) == 1


def test_what_was_told_of_lumens_goes_with_the_patient_and_not_before(unit: Engine) -> None:
    with transaction(unit) as session:
        tell_lumen(session, "somebody gone", LumenTold("left hand", "failed", THEN, "J.B."))
    assert purged(unit, THEN - timedelta(days=30)).lumens == 1
    assert count(unit, LumenToldRow) == count(unit, PatientRow)


def test_old_sessions_and_tries_go_and_accounts_stay(engine: Engine) -> None:
    with transaction(engine) as session:
        session.add(
            AccountRow(
                id="k.osei", sign_in="k.osei", name="K. Osei", roles=["nurse"], how="local",
                must_change=False, demo=False, created_at=THEN,
            )
        )  # fmt: skip
        session.flush()
        for number, seen in enumerate((THEN, LONG_AFTER)):
            session.add(
                SessionRow(
                    key_hash=str(number), account_id="k.osei", via="local", roles=[],
                    begun_at=THEN, seen_at=seen,
                )
            )  # fmt: skip
            session.add(AttemptRow(key=str(number), failures=1, last_at=seen))
    done = purged(engine, LONG_AFTER)
    assert (done.sessions, done.attempts, done.anything) == (1, 1, True)
    assert (count(engine, SessionRow), count(engine, AttemptRow), count(engine, AccountRow)) == (
        1, 1, 1,
    )  # fmt: skip
    assert not purged(engine, LONG_AFTER).anything
