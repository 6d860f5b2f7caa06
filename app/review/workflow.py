"""Load, read, review, return. The only file here that sees storage and the clock."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Engine, make_url
from sqlalchemy.orm import Session

from app.intake.read import read_case
from app.review.assess import Review, review
from app.review.knowledge import Knowledge
from app.storage.database import connect, current, head, reading
from app.storage.fluids import count_fluids
from app.storage.patients import Bed, Unit, read_bed, read_beds, read_unit


@dataclass(frozen=True, slots=True)
class Bedside:
    """One bed with its review."""

    patient_id: str
    bed: str
    initials: str
    request: Mapping[str, Any]
    review: Review


def now_in(unit: Unit | None) -> datetime:
    """The unit's moment in its own zone: where it stands still, or else the clock's."""
    if unit is None:
        return datetime.now(UTC)
    zone = ZoneInfo(unit.zone)
    return datetime.now(zone) if unit.fixed_now is None else unit.fixed_now.astimezone(zone)


def current_knowledge(session: Session) -> Knowledge:
    """What reviews are made with today."""
    return Knowledge.from_database(session, on=now_in(read_unit(session)).date())


def knowledge_at_hand(url: str) -> Knowledge:
    """What the server reviews with when its database is ready, else seed_data/ alone."""
    address = make_url(url)
    if address.get_backend_name() == "sqlite" and not Path(address.database or "").exists():
        return Knowledge.from_seed()
    engine = connect(url)
    try:
        if not is_ready(engine):
            return Knowledge.from_seed()
        with reading(engine) as session:
            return current_knowledge(session)
    finally:
        engine.dispose()


def is_ready(engine: Engine) -> bool:
    """Whether the database is at this release and holds a catalogue."""
    if current(engine) != head():
        return False
    with reading(engine) as session:
        return count_fluids(session) > 0


def review_unit(session: Session, knowledge: Knowledge) -> tuple[Bedside, ...]:
    """Every bed of the unit reviewed, in bed order; none when no unit is loaded."""
    unit = read_unit(session)
    if unit is None:
        return ()
    now = now_in(unit)
    return tuple(_bedside(bed, knowledge, now) for bed in read_beds(session, unit.id))


def review_patient(session: Session, knowledge: Knowledge, patient_id: str) -> Bedside | None:
    """One bed reviewed; None when there is no such patient."""
    bed = read_bed(session, patient_id)
    return None if bed is None else _bedside(bed, knowledge, now_in(read_unit(session)))


def review_request(
    request: Mapping[str, Any], knowledge: Knowledge, *, now: datetime | None = None
) -> Review:
    """One request reviewed, at its own `now` or else at this one (default: the clock's).

    Raises InputError or InputErrors for what cannot be read.
    """
    case = read_case(
        request,
        catalogue=knowledge.catalogue,
        vocabulary=knowledge.vocabulary,
        now=now or datetime.now(UTC),
    )
    return review(replace(case, pairs=knowledge.pairs), knowledge.ruleset)


def _bedside(bed: Bed, knowledge: Knowledge, now: datetime) -> Bedside:
    reviewed = review_request(bed.request, knowledge, now=now)
    return Bedside(bed.patient_id, bed.bed, bed.initials, bed.request, reviewed)
