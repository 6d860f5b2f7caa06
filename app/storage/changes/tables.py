"""Drafts, decisions, and what each release said of each fluid. Rows are only ever added."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, SHA256_LENGTH, Base, Document


class FluidVersionRow(Base):
    """What a release says of one fluid from a moment on. document: {} takes it out."""

    __tablename__ = "fluid_version"

    id: Mapped[int] = mapped_column(primary_key=True)
    fluid_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    document: Mapped[Document]
    sha256: Mapped[str] = mapped_column(String(SHA256_LENGTH))
    from_at: Mapped[datetime]
    release: Mapped[str]


class ContentChangeRow(Base):
    """One draft. subject: "fluid:ID", "limit:RULE/NAME" or "rule:ID". revises: a draft sent back
    that it takes the place of. drafted_by: the name at that time.
    """

    __tablename__ = "content_change"

    id: Mapped[int] = mapped_column(primary_key=True)
    subject: Mapped[str] = mapped_column(index=True)
    content: Mapped[Document]
    reason: Mapped[str]
    effective_from: Mapped[datetime]
    review_on: Mapped[date]
    based_on: Mapped[str]
    revises: Mapped[int | None] = mapped_column(ForeignKey("content_change.id"))
    drafted_by: Mapped[str]
    drafted_by_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    drafted_as_pharmacist: Mapped[bool]
    drafted_at: Mapped[datetime]


class ContentDecisionRow(Base):
    """One decision. number: how many there were before it; of two at once only one is kept."""

    __tablename__ = "content_decision"
    __table_args__ = (UniqueConstraint("change_id", "number"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    change_id: Mapped[int] = mapped_column(ForeignKey("content_change.id"), index=True)
    number: Mapped[int]
    verdict: Mapped[str]
    reason: Mapped[str]
    replay: Mapped[str]
    by: Mapped[str]
    by_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    as_pharmacist: Mapped[bool]
    at: Mapped[datetime]
