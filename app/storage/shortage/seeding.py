"""What the demo unit's file counts, told once: what was counted on a page since stays newest."""

from pathlib import Path

from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.counting import counts_in
from app.catalogue.stock.counts import BagCount
from app.storage.seed_files import read_toml
from app.storage.shortage.counts import tell_counts_once


def read_counts_file(path: Path, catalogue: Catalogue) -> tuple[BagCount, ...]:
    """The counts of a file; none when there is no such file.

    Raises EntryError naming entry and field, ValueError for bad TOML.
    """
    return counts_in(read_toml(path), catalogue) if path.exists() else ()


def seed_counts(session: Session, path: Path, catalogue: Catalogue) -> tuple[int, int]:
    """How many counts were added, of how many in the file. Raises as read_counts_file()."""
    counts = read_counts_file(path, catalogue)
    return tell_counts_once(session, counts), len(counts)
