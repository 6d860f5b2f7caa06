"""Past requests without their people. Only ever added to; `purge_past` alone takes away."""

from datetime import datetime

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, SHA256_LENGTH, Base, Document


class PastOrderRow(Base):
    """One request as it stood at a moment: no bed, no initials, no name.

    sha256: of the request, so that nothing is kept twice. setting: as reviews name it, or "not
    told". orders: how many it holds. invented: made for the demo.
    """

    __tablename__ = "past_order"
    # A number is never given again: a link to what retention took must lead nowhere.
    __table_args__ = {"sqlite_autoincrement": True}  # noqa: RUF012 - SQLAlchemy reads this name

    id: Mapped[int] = mapped_column(primary_key=True)
    sha256: Mapped[str] = mapped_column(String(SHA256_LENGTH), unique=True)
    at: Mapped[datetime] = mapped_column(index=True)
    setting: Mapped[str] = mapped_column(String(ID_LENGTH))
    orders: Mapped[int]
    invented: Mapped[bool]
    request: Mapped[Document]
