"""Where a figure comes from, and whether its text was seen."""

from dataclasses import dataclass
from typing import Final

NO_SOURCE: Final = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Source:
    """One source and what it covers.

    work: author, title, year. place: section, table or page. seen: False = from memory, and every
    page that shows the figure says so. covers: field names of what it vouches for.
    """

    work: str
    place: str = ""
    seen: bool = False
    covers: tuple[str, ...] = ()
    note: str = ""
