"""The trail's rows, and the one row that says how many there are."""

from datetime import datetime

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, SHA256_LENGTH, Base


class TrailRow(Base):
    """One act. Only ever added to, which the database itself holds (migration 0006).

    seq: 1, 2, 3, without a gap. before, after: canonical JSON text, as it went into the hash.
    previous: sha256 of the row before, empty in the first.
    """

    __tablename__ = "trail_row"

    seq: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[datetime]
    who: Mapped[str]
    account_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    act: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    subject: Mapped[str] = mapped_column(index=True)
    before: Mapped[str | None]
    after: Mapped[str | None]
    previous: Mapped[str] = mapped_column(String(SHA256_LENGTH))
    sha256: Mapped[str] = mapped_column(String(SHA256_LENGTH))


class TrailHeadRow(Base):
    """How many rows there are, and the last one's hash: one row, changed with each act.

    sealed: how many rows the seal speaks for; fewer than count where acts were written by a
    program that had no secret. seal: empty when nothing was ever sealed.
    """

    __tablename__ = "trail_head"

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    count: Mapped[int]
    last: Mapped[str] = mapped_column(String(SHA256_LENGTH))
    sealed: Mapped[int]
    seal: Mapped[str] = mapped_column(String(SHA256_LENGTH))
