"""Samples of past findings and what people say of them. Only ever added to."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, Base, Document


class SampleRow(Base):
    """One sample. seed: by which it was drawn from the count, so that it can be drawn again."""

    __tablename__ = "sample"

    id: Mapped[int] = mapped_column(primary_key=True)
    count_id: Mapped[int] = mapped_column(ForeignKey("replay.id"))
    seed: Mapped[str] = mapped_column(String(ID_LENGTH))
    rule_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    drawn_at: Mapped[datetime]
    by: Mapped[str]
    account_id: Mapped[str] = mapped_column(String(ID_LENGTH))


class SampleItemRow(Base):
    """One past finding to be looked at. past_id: its past order, which retention may take away.

    told: the finding as it was shown: title, why, what to do.
    """

    __tablename__ = "sample_item"
    __table_args__ = (UniqueConstraint("sample_id", "number"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    sample_id: Mapped[int] = mapped_column(ForeignKey("sample.id"), index=True)
    number: Mapped[int]
    past_id: Mapped[int]
    rule_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    order_ids: Mapped[list[Any]]
    level: Mapped[str] = mapped_column(String(ID_LENGTH))
    told: Mapped[Document]


class SampleMarkRow(Base):
    """What one person says of one finding: useful, not useful or wrong, once and for good."""

    __tablename__ = "sample_mark"
    __table_args__ = (UniqueConstraint("item_id", "account_id"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    item_id: Mapped[int] = mapped_column(ForeignKey("sample_item.id"), index=True)
    verdict: Mapped[str] = mapped_column(String(ID_LENGTH))
    reason: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    account_id: Mapped[str] = mapped_column(String(ID_LENGTH))
