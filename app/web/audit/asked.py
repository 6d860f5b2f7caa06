"""What somebody asks to see of the trail, out of the address; days are days of the unit."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Final
from urllib.parse import urlencode

from app.storage.audit.reading import Wanted

LONGEST: Final = 120
FILTERS: Final = ("who", "act", "subject", "since", "until")
DAYS: Final = ("since", "until")
A_DAY: Final = "a day such as 2031-03-04"


@dataclass(frozen=True, slots=True)
class Asked:
    """The filters as typed, which acts they mean, and what of them could not be used.

    under: only rows under this number, 0 for the newest.
    """

    typed: Mapping[str, str]
    wanted: Wanted
    under: int = 0
    faults: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_filtered(self) -> bool:
        """Whether anything was asked for but the newest."""
        return bool(self.typed)

    def address(self, under: int = 0) -> str:
        """The page's own address with these filters."""
        pairs = [*self.typed.items(), *([("under", str(under))] if under else [])]
        return f"/audit?{urlencode(pairs)}" if pairs else "/audit"


def asked(given: Mapping[str, str], zone: tzinfo, kinds: frozenset[str] | None) -> Asked:
    """The filters of an address or a form. kinds: of subject that the person may read of."""
    found = {name: given.get(name, "").strip()[:LONGEST] for name in FILTERS}
    typed = {name: text for name, text in found.items() if text}
    days: dict[str, datetime | None] = {}
    faults: dict[str, str] = {}
    for name in DAYS:
        try:
            days[name] = _day(typed.get(name, ""), zone, end=name == "until")
        except (ValueError, OverflowError):
            days[name] = None
            faults[name] = f"“{typed[name]}” is not accepted and not used; accepted: {A_DAY}"
    wanted = Wanted(
        who=found["who"],
        act=found["act"],
        subject=found["subject"],
        since=days["since"],
        until=days["until"],
        kinds=kinds,
    )
    return Asked(typed, wanted, _number(given.get("under", "")), faults)


def _day(text: str, zone: tzinfo, *, end: bool) -> datetime | None:
    """The beginning of a day, or its end, which is the beginning of the next."""
    if not text:
        return None
    day = date.fromisoformat(text) + timedelta(days=1 if end else 0)
    return datetime.combine(day, time(), zone)


def _number(text: str) -> int:
    """A row's number; anything else asks for the newest."""
    digits = text.isascii() and text.isdigit() and len(text) <= len(str(2**31))
    return int(text) if digits else 0
