"""Plans kept for a shortage."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from app.storage.database import reading, transaction
from app.storage.shortage.plans import KeptPlan, keep_plan, read_plan, read_plans

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def plan(note: str, later_h: float = 0) -> KeptPlan:
    document = {"lost": ["a@1000"], "share": 0.6, "orders": [{"new": [["r", "info"]]}]}
    return KeptPlan(NOW + timedelta(hours=later_h), "J.B.", "account-1", note, document)


def test_a_plan_comes_back_as_it_was_kept(engine: Engine) -> None:
    with transaction(engine) as session:
        number = keep_plan(session, plan("decided at the huddle"))
    with reading(engine) as session:
        kept = read_plan(session, number)
    assert kept is not None
    assert kept.number == number
    assert (kept.at, kept.by, kept.account_id) == (NOW, "J.B.", "account-1")
    assert kept.document == plan("").document
    assert kept.note == "decided at the huddle"


def test_plans_are_listed_newest_first_and_not_without_end(engine: Engine) -> None:
    with transaction(engine) as session:
        for n in range(4):
            keep_plan(session, plan(f"n{n}", n))
    with reading(engine) as session:
        assert [one.note for one in read_plans(session)] == ["n3", "n2", "n1", "n0"]
        assert [one.note for one in read_plans(session, most=2)] == ["n3", "n2"]
        assert read_plan(session, 99) is None
