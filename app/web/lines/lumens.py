"""The list of lumens: where, of what size, and when somebody last looked."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.cautions.phrases import opening
from app.patient.access import Lumen
from app.patient.lumen_told import STALE_AFTER, LumenTold
from app.web import show

NOBODY: Final = "not confirmed by anyone"
HOURS: Final = STALE_AFTER.total_seconds() / 3600
BOTH: Final = 2
SAID: Final = {"failed": "failed", "works": "works", "placed": "placed"}


@dataclass(frozen=True, slots=True)
class LumenView:
    """One lumen: its name and site, when it was last looked at, and which buttons it has.

    told_now: something counts of it that may be taken back.
    """

    id: str
    name: str
    site: str
    size: str
    told: str
    stale: bool
    failed: bool
    told_now: bool

    @property
    def where(self) -> str:
        """Site and size."""
        return ", ".join(filter(None, (self.site, self.size)))


def lumen_views(
    access: Iterable[Lumen], stands: Mapping[str, LumenTold], now: datetime
) -> tuple[LumenView, ...]:
    """Every lumen with what counts of it."""
    return tuple(_view(one, stands.get(one.id), now) for one in access)


def _view(one: Lumen, told: LumenTold | None, now: datetime) -> LumenView:
    site = one.site or "site not known"
    kept = f", kept for {one.role}" if one.role else ""
    if told is None:
        return LumenView(
            one.id, opening(one.id), f"{site}{kept}", "", NOBODY, stale=True, failed=False,
            told_now=False,
        )  # fmt: skip
    failed = told.state == "failed"
    by = f" by {told.by}" if told.by else ""
    stale = not failed and told.is_stale(now)
    late = f", more than {HOURS:g} h ago" if stale else ""
    words = f"{SAID[told.state]}, told {show.clock(told.at, now)}{by}{late}"
    return LumenView(
        one.id, opening(one.id), f"{site}{kept}", told.size, words, stale, failed, told_now=True
    )  # fmt: skip


def unconfirmed(lumens: Iterable[LumenView]) -> str:
    """Which are to be looked at before anything is started; empty where none is."""
    in_use = tuple(one for one in lumens if not one.failed)
    stale = tuple(one.id for one in in_use if one.stale)
    if not stale:
        return ""
    which, them = "; ".join(stale), "it" if len(stale) == 1 else "them"
    if len(stale) == len(in_use) > 1:
        which = "both lumens" if len(stale) == BOTH else f"all {len(stale)} lumens"
    return f"Look at {which} first: nobody has confirmed {them} in the last {HOURS:g} h."
