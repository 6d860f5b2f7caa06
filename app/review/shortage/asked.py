"""A rehearsal as an address or a form asks for it, told field by field if wrong. Pure."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from types import MappingProxyType
from typing import Final, TypeVar

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.find import find
from app.catalogue.fluid import Fluid
from app.cautions.phrases import ASIDE
from app.review.shortage.loss import SIZE_MARK, USUAL_DAYS, Loss, Sizes

Made = TypeVar("Made")
Given = Mapping[str, Sequence[str]]
MOST_LOST: Final = 20
MOST_LETTERS: Final = 120
WHOLE_PERCENT: Final = 100.0
MOST_DAYS: Final = 90
# Nobody rehearses further ahead; a year that is mistyped is told.
FURTHEST: Final = timedelta(days=366)
NAMED_AT_MOST: Final = 4
ML_IN: Final = {"ml": 1.0, "l": 1000.0, "litre": 1000.0, "liter": 1000.0}
SIZED: Final = re.compile(
    r"(\d[\d,]*(?:\.\d+)?)\s*(ml|litre|liter|l)s?\s+(?:bags?\s+)?(?:of\s+)?(.+)",
    re.IGNORECASE | re.ASCII,
)
SHARE: Final = re.compile(r"(\d{1,3}(?:\.\d{1,2})?)\s*%?", re.ASCII)
DAYS: Final = re.compile(r"(\d{1,3})(?:\s*days?)?", re.IGNORECASE | re.ASCII)
ACCEPTED_FLUID: Final = (
    "the name of a fluid in the catalogue, or of one size, such as 1,000 mL bags of "
    "0.9% sodium chloride"
)
ACCEPTED_ID: Final = "the id of a fluid in the catalogue, alone or with @ and a pack size"
ACCEPTED_SHARE: Final = "per cent of what is delivered, above 0 and at most 100, such as 60"
ACCEPTED_DAYS: Final = f"whole days, 1 to {MOST_DAYS}"
ACCEPTED_FROM: Final = "a date and time such as 2031-03-05 07:00, not past, within a year"
TYPED: Final = ("add", "share", "from", "days")
BOXES: Final = ("shelf", "smaller", "here")


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked. loss: None while nothing is picked, or something was not accepted.

    typed: the fields as sent. picked: what is lost, as an address says it. faults: every field that
    was not accepted. ticked: the boxes that were ticked.
    """

    loss: Loss | None
    typed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    picked: tuple[str, ...] = ()
    faults: tuple[EntryError, ...] = ()
    ticked: frozenset[str] = frozenset()


def read_asked(given: Given, catalogue: Catalogue, now: datetime) -> Asked:
    """A rehearsal from its fields: lost (ids), add (words), share (%), from, days, and the boxes.

    Empty fields are the usual: all of it, from now, for a week. now: with the unit's zone, which a
    time without one is read in.
    """
    faults: list[EntryError] = []
    typed = {name: _last(given, name) for name in TYPED}
    none: tuple[str, ...] = ()
    added = _read(faults, partial(_named, typed["add"], catalogue), none)
    chosen = (one.strip()[:MOST_LETTERS] for one in given.get("lost", ()))
    picked = tuple(dict.fromkeys((*filter(None, chosen), *added)))
    nothing: dict[str, Sizes] = {}
    sizes = _read(faults, partial(_sizes, picked, catalogue), nothing)
    ticked = frozenset(name for name in BOXES if _last(given, name))
    loss = Loss(
        sizes=MappingProxyType(sizes),
        starts=_read(faults, partial(_starts, typed["from"], now), now),
        share=_read(faults, partial(_share, typed["share"]), 1.0),
        shelf_too="shelf" in ticked,
        smaller="smaller" in ticked,
        told_only="here" in ticked,
        days=_read(faults, partial(_days, typed["days"]), USUAL_DAYS),
    )
    is_whole = bool(sizes) and not faults
    return Asked(
        loss if is_whole else None, MappingProxyType(typed), picked, tuple(faults), ticked
    )  # fmt: skip


def _last(given: Given, name: str) -> str:
    values = given.get(name, ())
    return " ".join(values[-1].split())[:MOST_LETTERS] if values else ""


def _read(faults: list[EntryError], read: Callable[[], Made], usual: Made) -> Made:
    """What a field says; its fault is kept, and the usual taken, so that all faults are told."""
    try:
        return read()
    except EntryError as fault:
        faults.append(fault)
        return usual


def _sizes(picked: Sequence[str], catalogue: Catalogue) -> dict[str, Sizes]:
    if len(picked) > MOST_LOST:
        raise EntryError("lost", f"{len(picked)} fluids", f"at most {MOST_LOST}")
    sizes: dict[str, Sizes] = {}
    for key in picked:
        fluid_id, mark, size = key.partition(SIZE_MARK)
        fluid = catalogue.get(fluid_id)
        if fluid is None or (mark and size not in map(str, fluid.pack_sizes_ml)):
            raise EntryError("lost", key, ACCEPTED_ID)
        one = frozenset({int(size)}) if mark else frozenset()
        # Every size takes in each single one.
        whole = not one or sizes.get(fluid_id) == frozenset()
        sizes[fluid_id] = frozenset() if whole else sizes.get(fluid_id, frozenset()) | one
    return sizes


def _named(words: str, catalogue: Catalogue) -> tuple[str, ...]:
    """What words name, as an address says it; nothing for no words."""
    if not words:
        return ()
    sized = SIZED.fullmatch(words)
    fluid = _fluid(sized[3] if sized else words, words, catalogue)
    if sized is None:
        return (fluid.id,)
    size = float(sized[1].replace(",", "")) * ML_IN[sized[2].lower()]
    if size not in fluid.pack_sizes_ml:
        has = ", ".join(f"{one:,} mL" for one in fluid.pack_sizes_ml)
        raise EntryError("add", words, f"a size that {fluid.name} comes in: {has}")
    return (f"{fluid.id}{SIZE_MARK}{size:.0f}",)


def _fluid(name: str, words: str, catalogue: Catalogue) -> Fluid:
    """The one fluid of this name, id or search word; which it may mean is told otherwise."""
    same = tuple(fluid for fluid in catalogue if name.casefold() in _names(fluid))
    if len(same) == 1:
        return same[0]
    may_mean = same or tuple(each.fluid for each in find(catalogue, name).found)
    if not may_mean:
        raise EntryError("add", words, ACCEPTED_FLUID)
    raise EntryError("add", words, f"one of: {_listed(may_mean)}")


def _names(fluid: Fluid) -> frozenset[str]:
    bare = ASIDE.sub("", fluid.name)
    return frozenset(one.casefold() for one in (fluid.id, fluid.name, bare, *fluid.search_words))


def _listed(fluids: Iterable[Fluid]) -> str:
    names = [fluid.name for fluid in fluids]
    more = f"; and {len(names) - NAMED_AT_MOST} more" if len(names) > NAMED_AT_MOST else ""
    return f"{'; '.join(names[:NAMED_AT_MOST])}{more}"


def _share(words: str) -> float:
    if not words:
        return 1.0
    match = SHARE.fullmatch(words)
    share = float(match[1]) / WHOLE_PERCENT if match else 0.0
    if not 0 < share <= 1:
        raise EntryError("share", words, ACCEPTED_SHARE)
    return share


def _days(words: str) -> int:
    if not words:
        return USUAL_DAYS
    match = DAYS.fullmatch(words)
    days = int(match[1]) if match else 0
    if not 1 <= days <= MOST_DAYS:
        raise EntryError("days", words, ACCEPTED_DAYS)
    return days


def _starts(words: str, now: datetime) -> datetime:
    """When it begins: now when nothing is written. The minute that runs is not past."""
    if not words:
        return now
    try:
        moment = datetime.fromisoformat(words)
    except ValueError:
        raise EntryError("from", words, ACCEPTED_FROM) from None
    moment = moment.replace(tzinfo=now.tzinfo) if moment.tzinfo is None else moment
    if not now.replace(second=0, microsecond=0) <= moment <= now + FURTHEST:
        raise EntryError("from", words, ACCEPTED_FROM)
    return moment.astimezone(now.tzinfo)
