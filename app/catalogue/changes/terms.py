"""From when a change is to count, why, and when it is looked at again: read from a form."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, Final

from app.catalogue.entry import EntryError
from app.catalogue.pairs.local_note import needed

LONGEST_REASON: Final = 600
# A minute already begun when it was typed is not in the past.
TYPING: Final = timedelta(minutes=1)
# How far ahead a change may wait, and within what time it is looked at again (common practice, no
# source).
LONGEST_WAIT: Final = timedelta(days=366)
LONGEST_REVIEW: Final = timedelta(days=3 * 366)


@dataclass(frozen=True, slots=True)
class Terms:
    """Reason, moment and review day of a draft."""

    reason: str
    effective_from: datetime
    review_on: date


def terms_from(entry: Mapping[str, Any], now: datetime) -> Terms:
    """Terms as written: reason, effective_from (empty: as soon as it is approved), review_on.

    A time without a zone is in that of `now`. Raises EntryError naming the first wrong field.
    """
    reason = needed(entry, "reason", LONGEST_REASON, "why it is changed, in a few words")
    effective_from = moment_from(entry.get("effective_from"), now)
    review_on = review_day_from(entry.get("review_on"), effective_from)
    return Terms(reason, effective_from, review_on)


def moment_from(written: object, now: datetime) -> datetime:
    """The moment a change is to count from. Raises EntryError for one in the past or too far off.

    written: an ISO time, with or without zone; empty is now, which is as soon as it is approved.
    """
    if written in (None, ""):
        return now
    last = now + LONGEST_WAIT
    accepted = (
        f"a moment not before {now:%-d %b %Y %H:%M} and not after {last:%-d %b %Y}, or nothing: "
        "as soon as it is approved"
    )
    moment = _moment(written)
    if moment is None:
        raise EntryError("effective_from", written, accepted)
    local = moment if moment.tzinfo else moment.replace(tzinfo=now.tzinfo)
    if not now - TYPING <= local <= last:
        raise EntryError("effective_from", written, accepted)
    return max(local, now)


def _moment(written: object) -> datetime | None:
    if isinstance(written, datetime):
        return written
    try:
        return datetime.fromisoformat(str(written).strip())
    except ValueError:
        return None


def review_day_from(written: object, effective_from: datetime) -> date:
    """The day by which it is looked at again. Raises EntryError unless it comes after the change
    begins to count, and soon enough.
    """
    first, last = effective_from.date(), (effective_from + LONGEST_REVIEW).date()
    accepted = f"a day after {first:%-d %b %Y} and not after {last:%-d %b %Y}"
    try:
        day = written if isinstance(written, date) else date.fromisoformat(str(written or ""))
    except ValueError:
        raise EntryError("review_on", written or "", accepted) from None
    if not first < day <= last:
        raise EntryError("review_on", written, accepted)
    return day
