"""Replays and counts over past orders: what was asked for, how far it is, what came out."""

from datetime import datetime

from sqlalchemy import JSON, String
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, Base, Document


class ReplayRow(Base):
    """One run over past orders.

    change_id: 0 for a count of what is said now. beat_at: when the process that runs it last
    gave a sign of life. by, account_id: who asked. versions: of what was compared. numbers: what
    came out in short; result: all of it. seed: what its sample of rows is drawn by.
    """

    __tablename__ = "replay"

    id: Mapped[int] = mapped_column(primary_key=True)
    change_id: Mapped[int] = mapped_column(index=True)
    state: Mapped[str] = mapped_column(String(ID_LENGTH))
    done: Mapped[int]
    total: Mapped[int]
    asked_at: Mapped[datetime]
    beat_at: Mapped[datetime]
    finished_at: Mapped[datetime | None]
    by: Mapped[str]
    account_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    stop_asked: Mapped[bool]
    seed: Mapped[str] = mapped_column(String(ID_LENGTH))
    message: Mapped[str]
    versions: Mapped[Document]
    numbers: Mapped[Document]
    result: Mapped[Document | None] = mapped_column(JSON(none_as_null=True))
