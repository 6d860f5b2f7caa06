"""The fluids of a release brought into the database: versions are added, nothing is overwritten.

A fluid whose entry was approved here stays as it was approved; what the release says instead is
kept beside it and told with the fields that differ.
"""

from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import Final, Literal

from sqlalchemy.orm import Session

from app.catalogue.changes.change import Document as Entry
from app.catalogue.changes.change import FluidEntry
from app.catalogue.changes.differences import differences
from app.catalogue.changes.history import Filed
from app.catalogue.changes.versions import local_entries
from app.catalogue.entry import EntryError, fluid_from
from app.intake.errors import InputError, InputErrors
from app.storage.audit.trail import record
from app.storage.changes.records import read_history
from app.storage.changes.versions import add_version, newest_hashes, read_newest, sha256_of
from app.storage.demo_files import as_json
from app.storage.seed_files import read_toml
from app.storage.tables import Document

Outcome = Literal["loaded", "changed", "unchanged", "removed", "kept", "refused"]
OUTCOMES: Final[tuple[Outcome, ...]] = (
    "loaded", "changed", "unchanged", "removed", "kept", "refused",
)  # fmt: skip
FAULTS: Final = (EntryError, InputError, InputErrors, ValueError)
RELEASE: Final = version("ringside")
WHO: Final = f"release {RELEASE}"
ACT: Final = "load-release"


@dataclass(frozen=True, slots=True)
class Told:
    """What became of one file."""

    outcome: Outcome
    file: str
    detail: str = ""

    def __str__(self) -> str:
        return f"{self.outcome}: {self.file}" + (f": {self.detail}" if self.detail else "")


def seed_fluids(session: Session, *, now: datetime, folder: Path) -> list[Told]:
    """Bring what the release says of each fluid to what the files say; told file by file."""
    held = newest_hashes(session)
    local = local_entries(read_history(session), now)
    told: list[Told] = []
    files = sorted(folder.glob("*.toml"), key=lambda path: path.stem)
    for path in files:
        try:
            document = as_json(read_toml(path))
            fluid_from(document, file_id=path.stem)
        except FAULTS as fault:
            told.append(Told("refused", path.name, str(fault)))
            continue
        outcome = outcome_of(held.get(path.stem), sha256_of(document))
        if outcome != "unchanged":
            _add(session, path.stem, document, now)
        told.append(_told(outcome, path.stem, document, local.get(path.stem)))
    for key in sorted(set(held) - {path.stem for path in files}):
        _add(session, key, None, now)
        told.append(_told("removed", key, None, local.get(key)))
    return told


def outcome_of(held: str | None, sha: str) -> Outcome:
    """What became of a file, by the hash that was held and the one it has now."""
    if held is None:
        return "loaded"
    return "unchanged" if held == sha else "changed"


def _told(outcome: Outcome, key: str, document: Entry | None, local: Filed | None) -> Told:
    """What became of a fluid's file; where an entry approved here stays, where the two differ."""
    file = f"{key}.toml"
    if outcome == "unchanged" or local is None:
        return Told(outcome, file)
    content = local.change.content
    assert isinstance(content, FluidEntry)
    apart = differences(content.document, document)
    where = "; ".join(f"{one.name} {one.after}, here {one.before}" for one in apart)
    number = local.change.number
    if not where:
        return Told("kept", file, f"the release now says the same as change {number}")
    return Told("kept", file, f"as approved here by change {number}; the release says {where}")


def _add(session: Session, key: str, document: Document | None, now: datetime) -> None:
    record(
        session, at=now, who=WHO, account_id="", act=ACT, subject=f"fluid:{key}",
        before=read_newest(session, key), after=document,
    )  # fmt: skip
    add_version(session, key, document, at=now, release=RELEASE)
