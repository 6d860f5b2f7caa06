"""Load, read, review, return. The only file here that sees storage and the clock."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any, Final, Generic, TypeVar
from zoneinfo import ZoneInfo

from sqlalchemy import Engine, make_url
from sqlalchemy.orm import Session

from app.catalogue.pairs.answer import PairBook
from app.intake.read import read_case
from app.review.assess import Review, review
from app.review.knowledge import Knowledge, Past
from app.review.pairs.noted import with_notes
from app.storage.database import connect, current, head, reading
from app.storage.fluids import count_fluids
from app.storage.pairs.notes import read_notes
from app.storage.patients import Bed, Unit, read_bed, read_beds, read_unit

Made = TypeVar("Made")
MOST_BEDS_KEPT: Final = 500


@dataclass(slots=True)
class Kept(Generic[Made]):
    """The last thing made for each bed; made anew when anything it rests on has changed."""

    _by_bed: dict[str, tuple[object, Made]] = field(default_factory=dict)

    def get(self, bed: str, rests_on: object, make: Callable[[], Made]) -> Made:
        """What was made from something equal to rests_on, or what make() gives now."""
        last = self._by_bed.get(bed)
        if last is not None and last[0] == rests_on:
            return last[1]
        made = make()
        if len(self._by_bed) >= MOST_BEDS_KEPT:
            self._by_bed.clear()
        self._by_bed[bed] = rests_on, made
        return made


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
    """What reviews are made with now: content counts by the clock, wherever the unit stands."""
    return Knowledge.at(session, datetime.now(UTC))


def pair_book(session: Session, knowledge: Knowledge) -> PairBook:
    """What is known of pairs today: the facts, and this unit's signed notes as they stand."""
    return PairBook(knowledge.pairs, read_notes(session, now_in(read_unit(session)).date()))


def knowledge_at_hand(url: str) -> Knowledge:
    """What the server reviews with when its database is ready, else seed_data/ alone."""
    past = past_at_hand(url)
    return Knowledge.from_seed() if past is None else past.at(datetime.now(UTC))


def past_at_hand(url: str) -> Past | None:
    """All that was ever in force, as the database tells; None when it is not ready."""
    address = make_url(url)
    if address.get_backend_name() == "sqlite" and not Path(address.database or "").exists():
        return None
    engine = connect(url)
    try:
        if not is_ready(engine):
            return None
        with reading(engine) as session:
            return Past.of(session)
    finally:
        engine.dispose()


def is_ready(engine: Engine) -> bool:
    """Whether the database is at this release and holds a catalogue."""
    if current(engine) != head():
        return False
    with reading(engine) as session:
        return count_fluids(session) > 0


def review_unit(
    session: Session, knowledge: Knowledge, kept: Kept[Bedside] | None = None
) -> tuple[Bedside, ...]:
    """Every bed of the unit reviewed, in bed order; none when no unit is loaded.

    kept: beds are reviewed again only when their rows, the knowledge or the minute have changed.
    """
    unit = read_unit(session)
    if unit is None:
        return ()
    now, beds = now_in(unit), read_beds(session, unit.id)
    book = PairBook(knowledge.pairs, read_notes(session, now.date()))
    if kept is None:
        return tuple(_bedside(bed, knowledge, book, now) for bed in beds)
    # A clock that runs would else ask for every review anew; ages are told in minutes.
    minute = now if unit.fixed_now else now.replace(second=0, microsecond=0)
    notes = tuple(note for note in book.notes if book.notes.state(note) == "counts")
    rests_on = knowledge, minute.isoformat(), unit.zone, notes
    return tuple(
        kept.get(
            bed.patient_id,
            (*rests_on, repr(bed)),
            partial(_bedside, bed, knowledge, book, now),
        )
        for bed in beds
    )


def review_patient(
    session: Session, knowledge: Knowledge, patient_id: str, *, now: datetime | None = None
) -> Bedside | None:
    """One bed reviewed; None when there is no such patient. now: default the unit's moment."""
    bed = read_bed(session, patient_id)
    if bed is None:
        return None
    at = now or now_in(read_unit(session))
    return _bedside(bed, knowledge, PairBook(knowledge.pairs, read_notes(session, at.date())), at)


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


def review_noted(
    request: Mapping[str, Any], knowledge: Knowledge, book: PairBook, *, now: datetime
) -> tuple[Mapping[str, Any], Review]:
    """review_request() of a request together with this unit's notes that count for what runs, and
    the request with them: what is found with a note can then be found again elsewhere.
    """
    plain = review_request(request, knowledge, now=now)
    noted = with_notes(request, plain.case, book) if book.notes.notes else request
    return noted, plain if noted is request else review_request(noted, knowledge, now=now)


def _bedside(bed: Bed, knowledge: Knowledge, book: PairBook, now: datetime) -> Bedside:
    request, reviewed = review_noted(bed.request, knowledge, book, now=now)
    return Bedside(bed.patient_id, bed.bed, bed.initials, request, reviewed)
