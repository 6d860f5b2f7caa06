"""Past requests answered with two states of knowledge: what would be said that is not said now."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from app.review.replay.answer import Past
from app.review.replay.count import Where
from app.review.replay.tally import One, Tally, tally_of
from app.review.replay.twice import Known, Twice, answer_with

# A ward works in two halves of the day (USERS.md 3.1: twelve-hour shifts).
DAY_FROM_H: Final = 7
NIGHT_FROM_H: Final = 19
DAY_SHIFT: Final = "day, 07:00 to 19:00"
NIGHT_SHIFT: Final = "night, 19:00 to 07:00"
UTC_NAME: Final = "UTC"


@dataclass(frozen=True, slots=True)
class Terms:
    """How to count. zone: of the unit's clock; by_day: tell days apart; seed: for the sample.

    every_loud_row: keep also a sample of the loud rows that stand, for people to look at.
    """

    zone: str = UTC_NAME
    by_day: bool = False
    seed: str = ""
    every_loud_row: bool = False


def compare(before: Known, after: Known, requests: Iterable[Past], terms: Terms = Terms()) -> Tally:
    """What differs between two states of knowledge, over past requests."""
    twice = Twice.of(before, after)
    return tally_with(twice, requests, terms)


def tally_with(twice: Twice, requests: Iterable[Past], terms: Terms) -> Tally:
    """As compare(), where what differs between the two has been found already."""
    zone = ZoneInfo(terms.zone)
    alike = twice.before is twice.after
    ones = []
    for past in requests:
        if alike:
            answer = answer_with(past, twice.before)
            before, after = answer, answer
        else:
            before, after = twice.answers(past)
        ones.append(One(past, before, after, where_of(past, zone, by_day=terms.by_day)))
    return tally_of(ones, terms.seed, every_loud_row=terms.every_loud_row)


def where_of(past: Past, zone: ZoneInfo, *, by_day: bool) -> Where:
    """Day, setting and stretch of the day of a past request, by the unit's clock."""
    at = past.at.astimezone(zone)
    return (at.date().isoformat() if by_day else ""), past.setting, shift_at(at)


def shift_at(at: datetime) -> str:
    """The stretch of the day a moment lies in."""
    return DAY_SHIFT if DAY_FROM_H <= at.hour < NIGHT_FROM_H else NIGHT_SHIFT
