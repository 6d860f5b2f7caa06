"""seed_data/ into the database: idempotent, and told file by file.

A faulty file is refused with its field, value and what is accepted; what the database held of it
before stays. A fluid whose file is gone is in the catalogue no longer, a bed's rows are removed.
"""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from sqlalchemy import delete, insert, select, update
from sqlalchemy.orm import Session

from app.storage.audit.trail import record
from app.storage.changes.release import (
    ACT,
    FAULTS,
    RELEASE,
    WHO,
    Outcome,
    Told,
    outcome_of,
    seed_fluids,
)
from app.storage.changes.versions import sha256_of as sha256_of
from app.storage.demo_files import (
    DEMO,
    Words,
    read_bed_file,
    read_case_of,
    read_stock_file,
    read_unit_file,
)
from app.storage.fluids import read_catalogue
from app.storage.patients import Unit, write_bed
from app.storage.seed_files import SEED_DATA, read_vocabulary
from app.storage.shortage.seeding import seed_counts
from app.storage.stock import tell_once
from app.storage.tables import PatientRow, SeedRunRow, UnitRow


def seed(
    session: Session, *, now: datetime, demo: bool, folder: Path = SEED_DATA
) -> tuple[Told, ...]:
    """Load fluids and, in demo mode, the demo unit; a run that did something is recorded."""
    told = seed_fluids(session, now=now, folder=folder / "fluids")
    if demo:
        told += seed_demo(session, now=now, folder=folder / DEMO.name)
    news = [str(line) for line in told if line.outcome != "unchanged"]
    if news:
        session.execute(insert(SeedRunRow).values(at=now, told=news))
        counts = Counter(line.outcome for line in told)
        record(
            session, at=now, who=WHO, account_id="", act=ACT, subject=f"release:{RELEASE}",
            after={outcome: number for outcome, number in sorted(counts.items())},
        )  # fmt: skip
    return tuple(told)


def seed_demo(session: Session, *, now: datetime, folder: Path = DEMO) -> list[Told]:
    """Bring the demo unit in the database to what its files say, read with the catalogue of now."""
    try:
        unit = read_unit_file(folder / "unit.toml")
        vocabulary = read_vocabulary()
    except FAULTS as fault:
        return [Told("refused", "unit.toml", str(fault))]
    assert unit.fixed_now is not None
    told = [_seed_unit(session, unit)]
    words = Words(read_catalogue(session, now), vocabulary, unit.fixed_now)
    told += _seed_stock(session, folder / "stock.toml", words)
    told += _seed_counts(session, folder / "counts.toml", words)
    held = _held(session, PatientRow)
    files = sorted((folder / "patients").glob("*.toml"))
    told += [_seed_bed(session, unit, path, words, held) for path in files]
    return told + _remove_gone(session, held, files)


def _seed_unit(session: Session, unit: Unit) -> Told:
    sha = sha256_of([unit.name, unit.zone, unit.fixed_now])
    held = _held(session, UnitRow).get(unit.id)
    row = {"name": unit.name, "zone": unit.zone, "fixed_now": unit.fixed_now, "sha256": sha}
    if held is None:
        session.execute(insert(UnitRow).values(id=unit.id, **row))
    elif held != sha:
        session.execute(update(UnitRow).where(UnitRow.id == unit.id).values(**row))
    return Told(outcome_of(held, sha), "unit.toml")


def _seed_bed(session: Session, unit: Unit, path: Path, words: Words, held: dict[str, str]) -> Told:
    try:
        bed = read_bed_file(path).bed
        read_case_of(bed, words)
    except FAULTS as fault:
        return Told("refused", path.name, str(fault))
    sha = sha256_of([unit.id, bed.bed, bed.initials, bed.request])
    outcome = outcome_of(held.get(path.stem), sha)
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


def _seed_counts(session: Session, path: Path, words: Words) -> list[Told]:
    """The same of what was counted."""
    try:
        added, of = seed_counts(session, path, words.catalogue)
    except FAULTS as fault:
        return [Told("refused", path.name, str(fault))]
    if not of:
        return []
    outcome: Outcome = "changed" if added else "unchanged"
    return [Told("loaded" if added == of else outcome, path.name)]


SeededTable = type[UnitRow] | type[PatientRow]


def _held(session: Session, table: SeededTable) -> dict[str, str]:
    """The hash of each row, by id."""
    return {key: sha for key, sha in session.execute(select(table.id, table.sha256))}


def _remove_gone(session: Session, held: Iterable[str], files: Iterable[Path]) -> list[Told]:
    gone = sorted(set(held) - {path.stem for path in files})
    session.execute(delete(PatientRow).where(PatientRow.id.in_(gone)))
    return [Told("removed", f"{key}.toml") for key in gone]
