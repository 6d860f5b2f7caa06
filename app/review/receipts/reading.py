"""A receipt read back: its shape checked before anything is made of it."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from app.canonical import HASH, digest, plain
from app.catalogue.entry import EntryError, fluid_from
from app.catalogue.fluid import Fluid
from app.intake.errors import InputError
from app.review.receipts.receipt import SCHEMA, Receipt

# What a receipt must have to be read at all, and of which kind.
TEXTS: Final = ("review", "previous", "made_at", "zone", "rule_id", "level", "summary", HASH)
NUMBERS: Final = ("number", "of")
OBJECTS: Final = ("versions", "request", "about", "understood", "figures")
LISTS: Final = ("limits", "fluids", "order_ids", "only_if", "sources")
KINDS: Final[tuple[tuple[tuple[str, ...], type, str], ...]] = (
    (TEXTS, str, "a text"),
    (NUMBERS, int, "a whole number"),
    (OBJECTS, dict, "an object of named fields"),
    (LISTS, list, "a list"),
)


@dataclass(frozen=True, slots=True)
class Kept:
    """One receipt with what it takes to make it again: moment, limits in force then, fluids."""

    name: str
    document: Receipt
    made_at: datetime
    limits: Mapping[str, float]
    fluids: tuple[Fluid, ...]

    @property
    def is_edited(self) -> bool:
        """True when the content no longer fits its hash."""
        return digest(self.document) != str(self.document[HASH])

    @property
    def rule_id(self) -> str:
        """The rule that spoke."""
        return str(self.document["rule_id"])

    @property
    def number(self) -> int:
        """Its place in the review, from 1."""
        return int(self.document["number"])


def read_kept(named: Iterable[tuple[str, object]]) -> tuple[tuple[Kept, ...], tuple[str, ...]]:
    """JSON values, each with its name, as receipts; and in words what is none."""
    receipts: list[Kept] = []
    faults: list[str] = []
    for name, document in named:
        try:
            receipts.append(kept(document, name))
        except InputError as fault:
            faults.append(f"{name}: {fault}")
    return tuple(receipts), tuple(faults)


def kept(document: object, name: str) -> Kept:
    """A JSON value read as a receipt. name: of its file.

    Raises InputError with the first field that is not of a receipt.
    """
    if not isinstance(document, dict) or document.get("schema") != SCHEMA:
        given = document.get("schema") if isinstance(document, dict) else type(document).__name__
        raise InputError("schema", given, SCHEMA)
    for fields, kind, accepted in KINDS:
        for field in fields:
            if not isinstance(document.get(field), kind):
                raise InputError(field, document.get(field), accepted)
    return Kept(
        name=name,
        document=plain(document),
        made_at=_moment(document["made_at"], document["zone"]),
        limits=dict(map(_limit, document["limits"])),
        fluids=tuple(map(_fluid, document["fluids"])),
    )


def _moment(text: str, zone: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
        if moment.tzinfo is None:
            raise ValueError
        return moment.astimezone(ZoneInfo(zone)) if zone else moment
    except (ValueError, ZoneInfoNotFoundError, OverflowError, OSError) as error:
        raise InputError("made_at", f"{text} {zone}", "a moment with its offset") from error


def _limit(limit: Any) -> tuple[str, float]:  # noqa: ANN401 - any JSON value
    in_force = limit.get("in_force") if isinstance(limit, dict) else None
    if isinstance(in_force, bool) or not isinstance(in_force, int | float):
        raise InputError("limits", limit, "a name with the number in force")
    if not math.isfinite(in_force) or not isinstance(limit.get("name"), str):
        raise InputError("limits", limit, "a name with the number in force")
    return limit["name"], in_force


def _fluid(document: Any) -> Fluid:  # noqa: ANN401 - any JSON value
    try:
        return fluid_from(document, file_id=document["id"])
    except (EntryError, KeyError, TypeError, ValueError, AttributeError) as error:
        raise InputError("fluids", str(document)[:60], f"a catalogue entry ({error})") from error
