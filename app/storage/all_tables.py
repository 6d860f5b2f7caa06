"""Every table there is, for migrations and whole-database tests: importing this file knows all."""

from app.storage.audit import tables as audit
from app.storage.tables import Base

__all__ = ["Base", "audit"]
