"""What each release said of each fluid, and which entry counts at a moment.

An entry that was approved here goes before any release; a release that differs is a note.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from app.catalogue.changes.change import Document, FluidEntry
from app.catalogue.changes.differences import Difference, differences
from app.catalogue.changes.history import Filed, History


@dataclass(frozen=True, slots=True)
class FluidVersion:
    """What a release says of a fluid from a moment on; None takes it out of the catalogue."""

    fluid_id: str
    document: Document | None
    from_at: datetime
    release: str = ""
    number: int = 0


@dataclass(frozen=True, slots=True)
class Otherwise:
    """A fluid whose entry was approved here while the release says something else."""

    fluid_id: str
    filed: Filed
    version: FluidVersion
    differences: tuple[Difference, ...]


def of_release(versions: Iterable[FluidVersion], moment: datetime) -> Mapping[str, FluidVersion]:
    """The newest that releases said of each fluid up to a moment."""
    told = (one for one in versions if one.from_at <= moment)
    ordered = sorted(told, key=lambda one: (one.from_at, one.number))
    return {one.fluid_id: one for one in ordered}


def local_entries(history: History, moment: datetime) -> Mapping[str, Filed]:
    """The fluids whose entry approved here counts at a moment."""
    in_force = history.in_force(moment).values()
    return {
        one.change.content.fluid_id: one
        for one in in_force
        if isinstance(one.change.content, FluidEntry)
    }


def documents_at(
    versions: Iterable[FluidVersion], history: History, moment: datetime
) -> Mapping[str, Document]:
    """Every entry that counts at a moment, by fluid, in the order of their ids."""
    entries = {key: one.document for key, one in of_release(versions, moment).items()}
    for key, filed in local_entries(history, moment).items():
        assert isinstance(filed.change.content, FluidEntry)
        entries[key] = filed.change.content.document
    return {key: entries[key] for key in sorted(entries) if entries[key] is not None}  # type: ignore[misc]


def said_otherwise(
    versions: Iterable[FluidVersion], history: History, moment: datetime
) -> tuple[Otherwise, ...]:
    """Where the newest release and what was approved here differ, field by field."""
    releases, found = of_release(versions, moment), []
    for key, filed in sorted(local_entries(history, moment).items()):
        content, version = filed.change.content, releases.get(key)
        if version is None or not isinstance(content, FluidEntry):
            continue
        apart = differences(content.document, version.document)
        if apart:
            found.append(Otherwise(key, filed, version, apart))
    return tuple(found)
