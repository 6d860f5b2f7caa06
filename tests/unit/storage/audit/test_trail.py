"""An act is recorded with what was done, or neither is; many writers make one chain."""

import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select, text
from sqlalchemy.dialects import postgresql
from sqlalchemy.exc import StatementError

from app.storage.audit.chain import Head, Link, hash_of, key_of, seal_holds
from app.storage.audit.tables import TrailHeadRow, TrailRow
from app.storage.audit.trail import LOCKED_HEAD, NoTrail, record
from app.storage.database import connect, migrate, reading, transaction

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
SECRET = "a secret of the ward's own"
WRITERS = 16
ACTS_EACH = 12


def tell(engine: Engine, fluid: str, at: datetime = AT) -> None:
    with transaction(engine) as session:
        record(
            session, at=at, who="K. Osei", account_id="k.osei", act="told stock",
            subject=f"stock:{fluid}", before={"state": "on the ward"}, after={"state": "out"},
        )  # fmt: skip


def links(engine: Engine) -> list[Link]:
    columns = (getattr(TrailRow, name) for name in Link.__dataclass_fields__)
    with reading(engine) as session:
        return [Link(*row) for row in session.execute(select(*columns).order_by(TrailRow.seq))]


def head(engine: Engine) -> Head:
    columns = (getattr(TrailHeadRow, name) for name in Head.__dataclass_fields__)
    with reading(engine) as session:
        return Head(*session.execute(select(*columns)).one())


@pytest.fixture
def sealing(tmp_path: Path) -> Iterator[Engine]:
    """A database whose writers have a secret."""
    made = connect(f"sqlite:///{tmp_path / 'sealed.db'}", secret=SECRET)
    migrate(made)
    yield made
    made.dispose()


def assert_one_chain(engine: Engine, count: int) -> None:
    rows = links(engine)
    assert [row.seq for row in rows] == list(range(1, count + 1))
    assert [row.previous for row in rows] == ["", *(row.sha256 for row in rows[:-1])]
    assert all(row.sha256 == hash_of(row) for row in rows)
    assert (head(engine).count, head(engine).last) == (count, rows[-1].sha256)


def test_an_untouched_database_has_an_empty_trail(engine: Engine) -> None:
    assert (links(engine), head(engine)) == ([], Head(0, "", 0, ""))


def test_acts_follow_each_other_in_one_chain(engine: Engine) -> None:
    for fluid in ("a", "b", "c"):
        tell(engine, fluid)
    assert_one_chain(engine, 3)
    last = links(engine)[-1]
    assert (last.who, last.account_id, last.subject) == ("K. Osei", "k.osei", "stock:c")
    assert json.loads(last.after or "") == {"state": "out"}


def test_a_moment_of_any_zone_is_hashed_as_it_is_read_back(engine: Engine) -> None:
    tell(engine, "a", AT.astimezone(timezone(timedelta(hours=2))) + timedelta(microseconds=7))
    assert_one_chain(engine, 1)


def test_what_is_undone_leaves_no_act(engine: Engine) -> None:
    tell(engine, "a")
    with pytest.raises(LookupError), transaction(engine) as session:
        record(session, at=AT, who="x", account_id="x", act="told stock", subject="stock:b")
        raise LookupError
    tell(engine, "c")
    assert_one_chain(engine, 2)


def test_several_acts_of_one_transaction_are_one_chain(engine: Engine) -> None:
    with transaction(engine) as session:
        for fluid in ("a", "b", "c"):
            record(session, at=AT, who="x", account_id="x", act="told stock", subject=fluid)
    assert_one_chain(engine, 3)


def test_many_writers_at_once_leave_no_gap_and_no_fork(sealing: Engine) -> None:
    def write(writer: int) -> None:
        for number in range(ACTS_EACH):
            tell(sealing, f"{writer}-{number}")

    with ThreadPoolExecutor(WRITERS) as pool:
        list(pool.map(write, range(WRITERS)))
    assert_one_chain(sealing, WRITERS * ACTS_EACH)
    subjects = {row.subject for row in links(sealing)}
    assert len(subjects) == WRITERS * ACTS_EACH
    now = head(sealing)
    assert now.sealed == now.count
    assert seal_holds(now.count, now.last, key_of(SECRET), now.seal)


def test_where_rows_can_be_locked_the_head_is_locked_before_it_is_read() -> None:
    asked = str(LOCKED_HEAD.compile(dialect=postgresql.dialect()))
    assert asked.rstrip().endswith("FOR UPDATE")


def test_without_a_secret_nothing_is_sealed(engine: Engine) -> None:
    tell(engine, "a")
    assert (head(engine).sealed, head(engine).seal) == (0, "")


def test_with_a_secret_the_last_hash_is_sealed(sealing: Engine) -> None:
    tell(sealing, "a")
    now = head(sealing)
    assert seal_holds(1, now.last, key_of(SECRET), now.seal)
    assert not seal_holds(1, now.last, key_of(SECRET + "!"), now.seal)


def test_a_writer_without_the_secret_leaves_the_seal_and_nobody_mends_it(sealing: Engine) -> None:
    tell(sealing, "a")
    before = head(sealing)
    bare = connect(sealing.url.render_as_string(hide_password=False))
    tell(bare, "b")
    bare.dispose()
    tell(sealing, "c")
    now = head(sealing)
    assert (now.count, now.sealed, now.seal) == (3, 1, before.seal)


def test_a_seal_taken_off_is_not_put_on_again_by_the_next_act(sealing: Engine) -> None:
    tell(sealing, "a")
    with transaction(sealing) as session:
        session.execute(text("DROP TRIGGER trail_head_only_moves_on"))
        session.execute(text("UPDATE trail_head SET seal = '', sealed = 0"))
    tell(sealing, "b")
    assert (head(sealing).sealed, head(sealing).seal) == (0, "")


def test_what_cannot_be_recorded_is_not_done(engine: Engine) -> None:
    with transaction(engine) as session:
        session.execute(text("DROP TRIGGER trail_head_is_not_deleted"))
        session.execute(text("DELETE FROM trail_head"))
    with pytest.raises(NoTrail, match="verify-audit"):
        tell(engine, "a")
    with reading(engine) as session:
        assert session.scalar(select(func.count()).select_from(TrailRow)) == 0


def test_a_moment_without_a_zone_is_refused(engine: Engine) -> None:
    with pytest.raises(StatementError, match="without a zone"):
        tell(engine, "a", AT.replace(tzinfo=None))
