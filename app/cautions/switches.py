"""Rules that a hospital has switched off, by whom and why: never silently."""

from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Final

from app.cautions.rule import Rule

# These say what the data itself lacks; without them silence would look like safety.
NEVER_OFF: Final = frozenset({"data-missing", "data-stale", "data-suspect", "order-ambiguous"})


@dataclass(frozen=True, slots=True)
class SwitchedOff:
    """One rule that does not run here. by: who drafted it and who approved it."""

    rule: Rule
    since: datetime
    by: str
    reason: str
    review_on: date


def off_sentence(off: SwitchedOff, zone: tzinfo | None) -> str:
    """What every review says of it: "Switched off here since 3 Feb 2031, 07:05, by …: reason"."""
    since = off.since.astimezone(zone)
    return (
        f"Switched off here since {since.day} {since:%b %Y, %H:%M}, by {off.by}: "
        f"{off.reason.rstrip('.')}."
    )


@dataclass(frozen=True, slots=True)
class Silent:
    """A rule that is switched off and would have had something to say.

    order_ids: of which orders; empty when of the patient alone. lacks: it would have said "not
    assessed" and nothing else.
    """

    off: SwitchedOff
    order_ids: tuple[str, ...]
    lacks: bool
