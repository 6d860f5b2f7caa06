"""A seal that does not hold is made anew only by a person, and that is an act itself."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, text

from app.intake.errors import InputError
from app.storage.audit.chain import key_of
from app.storage.audit.check import Verdict
from app.storage.audit.reading import ANY, check_trail, read_acts
from app.storage.audit.sealing import seal_anew
from app.storage.audit.trail import Done, NoTrail, record
from app.storage.database import connect, migrate, reading, transaction

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
SECRET = "a secret of the ward's own"
BY = Done(AT, "I. Tamm", "i.tamm", "", "", after={"reason": "secret set today"})


@pytest.fixture
def sealing(tmp_path: Path) -> Iterator[Engine]:
    """A trail begun without a secret, seen by a program that has one."""
    url = f"sqlite:///{tmp_path / 'unit.db'}"
    bare = connect(url)
    migrate(bare)
    tell(bare)
    bare.dispose()
    made = connect(url, secret=SECRET)
    yield made
    made.dispose()


def tell(engine: Engine) -> None:
    with transaction(engine) as session:
        record(session, at=AT, who="x", account_id="x", act="told stock", subject="stock:a")


def verdict(engine: Engine) -> Verdict:
    with reading(engine) as session:
        return check_trail(session, key_of(SECRET))


def test_a_trail_begun_without_a_secret_is_sealed_by_a_person_and_stays_sealed(
    sealing: Engine,
) -> None:
    tell(sealing)
    assert "never begun" in verdict(sealing).sealed
    with transaction(sealing) as session:
        seal_anew(session, BY)
    tell(sealing)
    now = verdict(sealing)
    assert (now.whole, now.sealed) == (True, "sealed up to row 4")


def test_sealing_anew_is_recorded_with_what_was_there_before(sealing: Engine) -> None:
    with transaction(sealing) as session:
        seal_anew(session, BY)
    with reading(sealing) as session:
        (act, first) = read_acts(session, ANY, 5)
    assert (act.who, act.act, act.subject) == ("I. Tamm", "sealed trail anew", "trail")
    assert act.before == f'{{"last":"{first.sha256}","rows":1,"sealed":0}}'
    assert act.after == '{"reason":"secret set today"}'


def test_without_a_secret_nothing_is_sealed(engine: Engine) -> None:
    with pytest.raises(InputError, match="RINGSIDE_SECRET"), transaction(engine) as session:
        seal_anew(session, BY)


def test_without_a_head_row_nothing_is_sealed(sealing: Engine) -> None:
    with transaction(sealing) as session:
        session.execute(text("DROP TRIGGER trail_head_is_not_deleted"))
        session.execute(text("DELETE FROM trail_head"))
    with pytest.raises(NoTrail), transaction(sealing) as session:
        seal_anew(session, BY)
