"""What is asked of the trail is found, and nothing else; a check reads one state."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine, text

from app.storage.audit.reading import (
    ANY,
    ROWS_AT_ONCE,
    Wanted,
    acts_told,
    all_acts,
    check_trail,
    count_acts,
    read_acts,
    read_head,
)
from app.storage.audit.trail import record
from app.storage.database import reading, transaction

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
HOUR = timedelta(hours=1)
ACTS = (
    ("K. Osei", "k.osei", "told stock", "stock:sodium-chloride-0.9"),
    ("Lea 100% Novák", "l.novak", "approved change", "limit:k-hyper/potassium_high_mmol_l"),
    ("Release", "", "release load", "fluid:ringers-lactate"),
    ("K. Osei", "k.osei", "made account", "account:l.novak"),
    ("I. Tamm", "i.tamm", "exported trail", "trail"),
    ("L_a", "l.a", "approved change", "limit:k-hyper/potassium_high"),
)


@pytest.fixture
def written(engine: Engine) -> Engine:
    with transaction(engine) as session:
        for hours, (who, account, act, subject) in enumerate(ACTS):
            at = AT + hours * HOUR
            record(session, at=at, who=who, account_id=account, act=act, subject=subject)
    return engine


def found(engine: Engine, wanted: Wanted) -> list[int]:
    with reading(engine) as session:
        acts = [link.seq for link in read_acts(session, wanted, 100)]
        assert sorted(acts) == [link.seq for link in all_acts(session, wanted, 100)]
        assert len(acts) == count_acts(session, wanted, 100)
    return acts


def words_of(given: object) -> str:
    """A name for a case that no order of a set can change."""
    if not isinstance(given, Wanted):
        return str(given)
    told = (given.who, given.act, given.subject, given.since, given.until)
    return " ".join(str(one) for one in (*told, *sorted(given.kinds or ())) if one) or "all"


@pytest.mark.parametrize(
    ("wanted", "rows"),
    [
        (ANY, [6, 5, 4, 3, 2, 1]),
        (Wanted(who="osei"), [4, 1]),
        (Wanted(who="OSEI"), [4, 1]),
        (Wanted(who="l.novak"), [2]),
        (Wanted(who="100%"), [2]),
        (Wanted(who="%"), [2]),
        (Wanted(who="L_a"), [6]),
        (Wanted(act="approved change"), [6, 2]),
        (Wanted(act="approved"), []),
        (Wanted(subject="limit:k-hyper/"), [6, 2]),
        (Wanted(subject="limit:k-hyper/potassium_high_mmol_l"), [2]),
        (Wanted(subject="LIMIT%"), []),
        (Wanted(since=AT + HOUR, until=AT + 3 * HOUR), [3, 2]),
        (Wanted(since=AT + 6 * HOUR), []),
        (Wanted(kinds=frozenset({"stock", "limit"})), [6, 2, 1]),
        (Wanted(kinds=frozenset({"trail"})), [5]),
        (Wanted(kinds=frozenset()), []),
        (Wanted(who="osei", kinds=frozenset({"stock"})), [1]),
    ],
    ids=words_of,
)
def test_what_is_wanted_is_found_newest_first(
    written: Engine, wanted: Wanted, rows: list[int]
) -> None:
    assert found(written, wanted) == rows


def test_a_page_goes_on_under_the_last_row_of_the_one_before(written: Engine) -> None:
    with reading(written) as session:
        assert [link.seq for link in read_acts(session, ANY, 2)] == [6, 5]
        assert [link.seq for link in read_acts(session, ANY, 2, before=5)] == [4, 3]
        assert read_acts(session, ANY, 2, before=1) == ()


def test_acts_up_to_a_row_leave_out_what_came_later(written: Engine) -> None:
    with reading(written) as session:
        assert [link.seq for link in all_acts(session, ANY, 2)] == [1, 2]


def test_acts_are_counted_to_one_more_than_is_asked(written: Engine) -> None:
    with reading(written) as session:
        assert count_acts(session, ANY, 4) == 5
        assert count_acts(session, ANY, 6) == 6


def test_acts_are_named_by_the_kinds_they_were_done_to(written: Engine) -> None:
    with reading(written) as session:
        assert acts_told(session, frozenset({"stock", "trail"})) == ("exported trail", "told stock")
        assert acts_told(session, frozenset()) == ()


def test_every_act_there_has_been_is_named_once(written: Engine) -> None:
    with reading(written) as session:
        assert acts_told(session) == (
            "approved change", "exported trail", "made account", "release load", "told stock",
        )  # fmt: skip


def test_a_check_reads_more_rows_than_are_fetched_at_once(engine: Engine) -> None:
    with transaction(engine) as session:
        for number in range(ROWS_AT_ONCE + 3):
            record(
                session, at=AT, who="x", account_id="x", act="told stock", subject=f"stock:{number}"
            )
    with reading(engine) as session:
        verdict = check_trail(session, b"")
        assert (verdict.whole, verdict.upto.rows) == (True, ROWS_AT_ONCE + 3)
        again = check_trail(session, b"", start=verdict.upto)
        assert (again.whole, again.upto) == (True, verdict.upto)


# What somebody does who may write to the file: first they take the triggers off.
OFF = ("trail_row_is_not_changed", "trail_row_is_not_deleted", "trail_head_only_moves_on")


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        ("UPDATE trail_row SET who = 'Nobody' WHERE seq = 2", [("edited", 2)]),
        ("UPDATE trail_row SET at = '2031-03-04 09:00:00.000000' WHERE seq = 2", [("edited", 2)]),
        ("UPDATE trail_row SET after = '{}' WHERE seq = 6", [("edited", 6)]),
        ("DELETE FROM trail_row WHERE seq = 4", [("gap", 4)]),
        ("DELETE FROM trail_row WHERE seq > 4", [("cut", 5)]),
        ("UPDATE trail_row SET seq = -seq WHERE seq = 1", [("added", -1), ("gap", 1)]),
    ],
)
def test_harm_done_to_the_file_itself_is_found(
    written: Engine, harm: str, said: list[tuple[str, int]]
) -> None:
    with transaction(written) as session:
        for trigger in OFF:
            session.execute(text(f"DROP TRIGGER {trigger}"))
        session.execute(text(harm))
    with reading(written) as session:
        verdict = check_trail(session, b"")
    assert [(fault.kind, fault.seq) for fault in verdict.faults] == said


def test_the_head_row_says_how_many_there_are(written: Engine) -> None:
    with reading(written) as session:
        head = read_head(session)
        assert head is not None
        assert (head.count, head.last) == (6, check_trail(session, b"").upto.last)
