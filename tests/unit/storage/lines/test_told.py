"""What people told of lumens is kept as it was told."""

from datetime import UTC, datetime

from sqlalchemy import Engine, func, select

from app.patient.lumen_told import LumenTold, State, failed_in
from app.storage.database import reading, transaction
from app.storage.lines.told import read_all_told, read_told, tell_lumen
from app.storage.tables import LumenToldRow

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def tell(engine: Engine, patient: str, lumen: str, *states: State) -> None:
    with transaction(engine) as session:
        for state in states:
            tell_lumen(session, patient, LumenTold(lumen, state, NOW, "A. Nurse"))


def test_nothing_is_told_at_first(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_told(session, "p1") == {}
        assert read_all_told(session) == {}


def test_what_was_told_comes_back_with_time_and_name(engine: Engine) -> None:
    tell(engine, "p1", "left hand", "failed")
    with reading(engine) as session:
        assert read_told(session, "p1") == {
            "left hand": LumenTold("left hand", "failed", NOW, "A. Nurse")
        }
        assert read_told(session, "p2") == {}


def test_size_and_site_come_back_as_they_were_told(engine: Engine) -> None:
    placed = LumenTold("left foot", "placed", NOW, "", "22 G", "peripheral")
    with transaction(engine) as session:
        tell_lumen(session, "p1", placed)
        tell_lumen(session, "p1", LumenTold("left hand", "works", NOW))
    with reading(engine) as session:
        stands = read_told(session, "p1")
    assert stands["left foot"] == placed
    assert (stands["left hand"].size, stands["left hand"].site) == ("", None)


def test_what_counts_in_the_unit_comes_by_patient(engine: Engine) -> None:
    tell(engine, "p1", "left hand", "failed")
    tell(engine, "p1", "right hand", "works")
    tell(engine, "p2", "left hand", "failed", "as it was")
    with reading(engine) as session:
        stands = read_all_told(session)
    assert {patient: set(lumens) for patient, lumens in stands.items()} == {
        "p1": {"left hand", "right hand"}
    }
    assert failed_in(stands["p1"]) == {"left hand"}


def test_nothing_told_is_ever_removed(engine: Engine) -> None:
    tell(engine, "p1", "left hand", "failed", "as it was", "failed")
    with reading(engine) as session:
        assert session.scalar(select(func.count()).select_from(LumenToldRow)) == 3
