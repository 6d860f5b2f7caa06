"""seed_data/ into the database: idempotent, and told file by file.

A faulty file is refused with its field, value and what is accepted; what the database held of it
before stays. A fluid or bed whose file is gone is removed.
"""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final, Literal

from sqlalchemy import delete, insert, select, update
from sqlalchemy.orm import Session

from app.catalogue.entry import EntryError, fluid_from
from app.intake.errors import InputError, InputErrors
from app.storage.demo_files import (
    DEMO,
    Words,
    as_json,
    read_bed_file,
    read_case_of,
    read_stock_file,
    read_unit_file,
)
from app.storage.fluids import read_catalogue
from app.storage.patients import Unit, write_bed
from app.storage.seed_files import SEED_DATA, read_toml, read_vocabulary
from app.storage.stock import tell_once
from app.storage.tables import FluidRow, PatientRow, SeedRunRow, UnitRow

Outcome = Literal["loaded", "changed", "unchanged", "removed", "refused"]
OUTCOMES: Final[tuple[Outcome, ...]] = ("loaded", "changed", "unchanged", "removed", "refused")
FAULTS: Final = (EntryError, InputError, InputErrors, ValueError)


@dataclass(frozen=True, slots=True)
class Told:
    """What became of one file."""

    outcome: Outcome
    file: str
    detail: str = ""

    def __str__(self) -> str:
        return f"{self.outcome}: {self.file}" + (f": {self.detail}" if self.detail else "")


def seed(
    session: Session, *, now: datetime, demo: bool, folder: Path = SEED_DATA
) -> tuple[Told, ...]:
    """Load fluids and, in demo mode, the demo unit; a run that did something is recorded."""
    told = seed_fluids(session, now=now, folder=folder / "fluids")
    if demo:
        told += seed_demo(session, folder=folder / DEMO.name)
    news = [str(line) for line in told if line.outcome != "unchanged"]
    if news:
        session.execute(insert(SeedRunRow).values(at=now, told=news))
    return tuple(told)


def seed_fluids(session: Session, *, now: datetime, folder: Path) -> list[Told]:
    """Bring the catalogue in the database to what the files say."""
    held = _held(session, FluidRow)
    told: list[Told] = []
    files = sorted(folder.glob("*.toml"), key=lambda path: path.stem)
    for path in files:
        try:
            document = as_json(read_toml(path))
            fluid_from(document, file_id=path.stem)
        except FAULTS as fault:
            told.append(Told("refused", path.name, str(fault)))
            continue
        line = Told(_outcome(held.get(path.stem), sha256_of(document)), path.name)
        told.append(line)
        if line.outcome != "unchanged":
            _write_fluid(session, path.stem, document, now)
    return told + _remove_gone(session, FluidRow, held, files)


def seed_demo(session: Session, *, folder: Path = DEMO) -> list[Told]:
    """Bring the demo unit in the database to what its files say, read with its catalogue."""
    try:
        unit = read_unit_file(folder / "unit.toml")
        vocabulary = read_vocabulary()
    except FAULTS as fault:
        return [Told("refused", "unit.toml", str(fault))]
    assert unit.fixed_now is not None
    told = [_seed_unit(session, unit)]
    words = Words(read_catalogue(session), vocabulary, unit.fixed_now)
    told += _seed_stock(session, folder / "stock.toml", words)
    held = _held(session, PatientRow)
    files = sorted((folder / "patients").glob("*.toml"))
    told += [_seed_bed(session, unit, path, words, held) for path in files]
    return told + _remove_gone(session, PatientRow, held, files)


def _seed_unit(session: Session, unit: Unit) -> Told:
    sha = sha256_of([unit.name, unit.zone, unit.fixed_now])
    held = _held(session, UnitRow).get(unit.id)
    row = {"name": unit.name, "zone": unit.zone, "fixed_now": unit.fixed_now, "sha256": sha}
    if held is None:
        session.execute(insert(UnitRow).values(id=unit.id, **row))
    elif held != sha:
        session.execute(update(UnitRow).where(UnitRow.id == unit.id).values(**row))
    return Told(_outcome(held, sha), "unit.toml")


def _seed_bed(session: Session, unit: Unit, path: Path, words: Words, held: dict[str, str]) -> Told:
    try:
        bed = read_bed_file(path).bed
        read_case_of(bed, words)
    except FAULTS as fault:
        return Told("refused", path.name, str(fault))
    sha = sha256_of([unit.id, bed.bed, bed.initials, bed.request])
    outcome = _outcome(held.get(path.stem), sha)
    if outcome != "unchanged":
        write_bed(session, unit.id, bed, sha)
    return Told(outcome, path.name)


def _seed_stock(session: Session, path: Path, words: Words) -> list[Told]:
    """What the file tells is told once: what was told on a page since then stays the newest."""
    try:
        entries = read_stock_file(path, words.catalogue)
    except FAULTS as fault:
        return [Told("refused", path.name, str(fault))]
    added = [tell_once(session, fluid_id, state) for fluid_id, state in entries.items()]
    if not added:
        return []
    outcome: Outcome = "changed" if any(added) else "unchanged"
    return [Told("loaded" if all(added) else outcome, path.name)]


def _write_fluid(session: Session, key: str, document: dict[str, Any], now: datetime) -> None:
    session.execute(delete(FluidRow).where(FluidRow.id == key))
    session.execute(
        insert(FluidRow).values(
            id=key, document=document, sha256=sha256_of(document), loaded_at=now
        )
    )


SeededTable = type[FluidRow] | type[UnitRow] | type[PatientRow]


def _held(session: Session, table: SeededTable) -> dict[str, str]:
    """The hash of each row, by id."""
    return {key: sha for key, sha in session.execute(select(table.id, table.sha256))}


def _remove_gone(
    session: Session, table: SeededTable, held: Iterable[str], files: Iterable[Path]
) -> list[Told]:
    gone = sorted(set(held) - {path.stem for path in files})
    session.execute(delete(table).where(table.id.in_(gone)))
    return [Told("removed", f"{key}.toml") for key in gone]


def _outcome(held: str | None, sha: str) -> Outcome:
    if held is None:
        return "loaded"
    return "unchanged" if held == sha else "changed"


def sha256_of(document: object) -> str:
    """The hash of a document's content; its layout and comments do not count."""
    text = json.dumps(document, sort_keys=True, ensure_ascii=False, default=str)
    return hashlib.sha256(text.encode()).hexdigest()
