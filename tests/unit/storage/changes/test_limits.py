"""A hospital's changes of limits, kept with day, reason and name."""

from datetime import date

from sqlalchemy import Engine

from app.cautions.limits import LimitChange
from app.storage.changes.limits import add_limit_change, read_limit_changes
from app.storage.database import reading, transaction

FIRST = LimitChange(
    rule_id="k-hyper", name="potassium_high_mmol_l", value=5.8, from_day=date(2031, 3, 1),
    reason="agreed with the kidney unit", by="J.B.",
)  # fmt: skip
SECOND = LimitChange(
    rule_id="k-hyper", name="potassium_high_mmol_l", value=6.0, from_day=date(2031, 2, 1),
    reason="first agreement", by="J.B.",
)  # fmt: skip


def test_an_untouched_hospital_has_no_changes(engine: Engine) -> None:
    with reading(engine) as session:
        assert read_limit_changes(session) == ()


def test_changes_come_back_whole_in_the_order_they_were_written(engine: Engine) -> None:
    with transaction(engine) as session:
        add_limit_change(session, FIRST)
        add_limit_change(session, SECOND)
    with reading(engine) as session:
        assert read_limit_changes(session) == (FIRST, SECOND)
