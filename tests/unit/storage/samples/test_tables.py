"""The tables of samples."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import IntegrityError

from app.storage.database import transaction
from app.storage.samples.tables import SampleItemRow, SampleMarkRow

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def test_a_finding_belongs_to_a_sample_that_is_there(engine: Engine) -> None:
    item = SampleItemRow(
        sample_id=9, number=1, past_id=1, rule_id="k-hyper", order_ids=["o1"], level="critical",
        told={},
    )  # fmt: skip
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(item)


def test_a_mark_belongs_to_a_finding_that_is_there(engine: Engine) -> None:
    mark = SampleMarkRow(
        item_id=9, verdict="useful", reason="", at=NOW, by="R. Alder", account_id="a1"
    )
    with pytest.raises(IntegrityError), transaction(engine) as session:
        session.add(mark)
