"""Bags counted, and plans kept."""

from datetime import datetime

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.tables import ID_LENGTH, Base, Document


class BagCountRow(Base):
    """So many bags of one size in one place, as somebody counted them. Only ever added to.

    fluid_id: of the catalogue, which may be loaded anew meanwhile. place: "ward" or "pharmacy".
    """

    __tablename__ = "bag_count"

    id: Mapped[int] = mapped_column(primary_key=True)
    fluid_id: Mapped[str] = mapped_column(String(ID_LENGTH), index=True)
    size_ml: Mapped[int]
    place: Mapped[str] = mapped_column(String(ID_LENGTH))
    bags: Mapped[int]
    at: Mapped[datetime]
    by: Mapped[str]


class ShortagePlanRow(Base):
    """A plan as it was, with a note. Only ever added to. document: ids, no patient text."""

    __tablename__ = "shortage_plan"

    id: Mapped[int] = mapped_column(primary_key=True)
    at: Mapped[datetime]
    by: Mapped[str]
    account_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    note: Mapped[str]
    document: Mapped[Document]
