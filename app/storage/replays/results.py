"""What approving a change asks of its replay, in numbers."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.storage.replays.tables import ReplayRow


@dataclass(frozen=True, slots=True)
class ReplayResult:
    """The newest replay of a change that came to its end.

    burden_before, burden_after: findings at warning or above per 100 orders, None without orders;
    critical_before, critical_after: of these the critical. appear, vanish, level: rows of
    every level that would appear, vanish or change level. critical_lost: of these the critical that
    would vanish or be said more quietly. cap: by how much burden may rise without
    a reason. before, after: the versions compared.
    """

    id: int
    change_id: int
    finished_at: datetime
    by: str
    requests: int
    orders: int
    burden_before: float | None
    burden_after: float | None
    critical_before: float | None
    critical_after: float | None
    appear: int
    vanish: int
    level: int
    newly_unread: int
    cap: float
    before: str
    after: str
    critical_lost: int = 0

    @property
    def rise(self) -> float:
        """By how much burden would rise; negative where it would fall."""
        return (self.burden_after or 0.0) - (self.burden_before or 0.0)

    @property
    def over_cap(self) -> bool:
        """True when burden would rise by more than is allowed without a written reason."""
        return self.rise > self.cap + ROUNDING


# What adding the same numbers in another order may make of it.
ROUNDING: Final = 1e-9
NUMBERS: Final = (
    "requests", "orders", "burden_before", "burden_after", "critical_before", "critical_after",
    "appear", "vanish", "level", "newly_unread", "cap",
)  # fmt: skip


def newest_replay(session: Session, change_id: int) -> ReplayResult | None:
    """The newest replay of this change that came to its end; None when there is none."""
    row = ReplayRow
    columns = (row.id, row.change_id, row.finished_at, row.by, row.numbers, row.versions)
    query = select(*columns).where(row.change_id == change_id, row.state == "finished")
    found = session.execute(query.order_by(row.id.desc()).limit(1)).first()
    if found is None:
        return None
    number, change, finished_at, by, numbers, versions = found
    assert finished_at is not None
    kept = {name: numbers[name] for name in NUMBERS}
    return ReplayResult(
        number, change, finished_at, by, **kept,
        before=versions["before"]["knowledge"], after=versions["after"]["knowledge"],
        critical_lost=numbers.get("critical_lost", 0),
    )  # fmt: skip
