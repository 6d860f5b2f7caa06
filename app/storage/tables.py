"""Every table, in one place. What people wrote is kept as written; intake reads it each time."""

from datetime import UTC, date, datetime
from typing import Any, Final

from sqlalchemy import JSON, DateTime, ForeignKey, MetaData, String, Text, UniqueConstraint
from sqlalchemy.engine import Dialect
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

NAMES: Final = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
ID_LENGTH: Final = 80
SHA256_LENGTH: Final = 64

Document = dict[str, Any]
Written = float | str


class UtcTime(TypeDecorator[datetime]):
    """A moment, kept in UTC and given back with its zone; a naive one is refused."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """To UTC for the database."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a time without a zone is not stored")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """With its zone again, which SQLite does not keep."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Base(DeclarativeBase):
    """What every table shares: names of constraints, and the column type for each Python type."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {  # noqa: RUF012 - SQLAlchemy reads this name as a plain dict
        str: Text(),
        datetime: UtcTime(),
        Document: JSON(),
        list[Any]: JSON(),
        Written: JSON(none_as_null=True),
    }


class UnitRow(Base):
    """One unit. fixed_now: the moment the demo unit stands still at; None follows the clock."""

    __tablename__ = "unit"

    id: Mapped[str] = mapped_column(String(ID_LENGTH), primary_key=True)
    name: Mapped[str]
    zone: Mapped[str]
    fixed_now: Mapped[datetime | None]
    sha256: Mapped[str] = mapped_column(String(SHA256_LENGTH))


class PatientRow(Base):
    """One bed's patient. conditions, medications: words as written. sha256: of the seed file."""

    __tablename__ = "patient"

    id: Mapped[str] = mapped_column(String(ID_LENGTH), primary_key=True)
    unit_id: Mapped[str] = mapped_column(ForeignKey("unit.id", ondelete="CASCADE"), index=True)
    bed: Mapped[str]
    initials: Mapped[str]
    setting: Mapped[str | None]
    age_years: Mapped[float | None]
    sex: Mapped[str | None]
    weight_kg: Mapped[float | None]
    weight_taken_at: Mapped[datetime | None]
    height_cm: Mapped[float | None]
    urine_ml_h: Mapped[float | None]
    balance_24h_ml: Mapped[float | None]
    conditions: Mapped[list[Any]]
    medications: Mapped[list[Any]]
    sha256: Mapped[str] = mapped_column(String(SHA256_LENGTH))


class ObservationRow(Base):
    """One result as received. note: what came with it ("haemolysed")."""

    __tablename__ = "observation"

    id: Mapped[int] = mapped_column(primary_key=True)
    patient_id: Mapped[str] = mapped_column(
        ForeignKey("patient.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str | None]
    loinc: Mapped[str | None]
    value: Mapped[Written | None]
    unit: Mapped[str | None]
    taken_at: Mapped[datetime | None]
    note: Mapped[str | None]


class LumenRow(Base):
    """One cannula or lumen of a patient, in the order the ward lists them."""

    __tablename__ = "lumen"
    __table_args__ = (UniqueConstraint("patient_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    patient_id: Mapped[str] = mapped_column(
        ForeignKey("patient.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str] = mapped_column(String(ID_LENGTH))
    site: Mapped[str | None]
    role: Mapped[str | None]


class OrderRow(Base):
    """One fluid order. additives: totals for the whole volume, as written."""

    __tablename__ = "infusion_order"
    __table_args__ = (UniqueConstraint("patient_id", "name"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    patient_id: Mapped[str] = mapped_column(
        ForeignKey("patient.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str] = mapped_column(String(ID_LENGTH))
    fluid: Mapped[str | None]
    additives: Mapped[list[Any]]
    volume_ml: Mapped[float | None]
    rate_ml_h: Mapped[float | None]
    duration_h: Mapped[float | None]
    rate_text: Mapped[str | None]
    order_text: Mapped[str | None]
    starts_at: Mapped[datetime | None]
    review_at: Mapped[datetime | None]
    lumen: Mapped[str | None]
    purpose: Mapped[str | None]


class CoInfusionRow(Base):
    """Something else that runs: a drug, a blood component, nutrition."""

    __tablename__ = "co_infusion"

    id: Mapped[int] = mapped_column(primary_key=True)
    patient_id: Mapped[str] = mapped_column(
        ForeignKey("patient.id", ondelete="CASCADE"), index=True
    )
    name: Mapped[str]
    kind: Mapped[str | None]
    lumen: Mapped[str | None]


class StockRow(Base):
    """Where one fluid is, as somebody told it. Only ever added to; the newest of a fluid counts.

    fluid_id: of the catalogue, which may be loaded anew meanwhile. by: as they wrote it.
    """

    __tablename__ = "stock"

    id: Mapped[int] = mapped_column(primary_key=True)
    fluid_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    state: Mapped[str]
    since: Mapped[datetime]
    note: Mapped[str]
    by: Mapped[str]


class PairNoteRow(Base):
    """A signed local note that two things may run together here. Only ever added to.

    a, b: a drug's key or a fluid's id. by, role: as they wrote it.
    """

    __tablename__ = "pair_note"

    id: Mapped[int] = mapped_column(primary_key=True)
    a: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    b: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    text: Mapped[str]
    conditions: Mapped[str]
    by: Mapped[str]
    role: Mapped[str]
    signed_at: Mapped[datetime]
    review_on: Mapped[date]


class PairNoteWithdrawalRow(Base):
    """A note taken back: it stays, and so does this. Only ever added to."""

    __tablename__ = "pair_note_withdrawal"

    id: Mapped[int] = mapped_column(primary_key=True)
    note_id: Mapped[int] = mapped_column(ForeignKey("pair_note.id"), unique=True)
    by: Mapped[str]
    role: Mapped[str]
    at: Mapped[datetime]
    reason: Mapped[str]


class LumenToldRow(Base):
    """What somebody told of a lumen: failed, works, placed, as it was. Only ever added to.

    patient_id: of the unit, which may be loaded anew meanwhile. by and size: as they wrote it;
    site: of a lumen that was placed. Empty where nobody told.
    """

    __tablename__ = "lumen_told"

    id: Mapped[int] = mapped_column(primary_key=True)
    patient_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    lumen: Mapped[str] = mapped_column(String(ID_LENGTH))
    state: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]
    size: Mapped[str] = mapped_column(server_default="")
    site: Mapped[str] = mapped_column(server_default="")


class SeedRunRow(Base):
    """One loading of seed data that changed or refused something, with what it told."""

    __tablename__ = "seed_run"

    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    told: Mapped[list[Any]]
