"""The table of runs."""

from datetime import UTC, datetime

from sqlalchemy import Engine, text

from app.storage.database import reading, transaction
from app.storage.replays.tables import ReplayRow

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def test_what_has_not_come_out_yet_is_nothing_rather_than_empty(engine: Engine) -> None:
    with transaction(engine) as session:
        session.add(
            ReplayRow(
                change_id=4, state="queued", done=0, total=0, asked_at=NOW, beat_at=NOW,
                finished_at=None, by="R. Alder", account_id="a1", stop_asked=False, seed="s",
                message="", versions={}, numbers={}, result=None,
            )
        )  # fmt: skip
    with reading(engine) as session:
        assert session.scalar(text("SELECT count(*) FROM replay WHERE result IS NULL")) == 1
