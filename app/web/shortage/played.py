"""What was asked of the unit as it is now, played through; nothing is changed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from fastapi import Request
from sqlalchemy.orm import Session

from app.catalogue.stock.counts import Counts
from app.review.knowledge import Knowledge
from app.review.shortage.asked import Asked, read_asked
from app.review.shortage.candidates import Means
from app.review.shortage.rehearsal import Rehearsal, Unit, rehearse
from app.review.workflow import Bedside, review_unit
from app.security.acts import Act
from app.storage.shortage.counts import read_counts
from app.web.fluids.news import news_of
from app.web.fluids.shelf import Shelf, shelf_of
from app.web.shortage.form import form_of
from app.web.shortage.view import Result, ShortagePage, result_of, without_patients
from app.web.show import clock_and_day
from app.web.who import person_of

Given = Mapping[str, Sequence[str]]
NOTHING: Final = ""


@dataclass(frozen=True, slots=True)
class Played:
    """One rehearsal. rehearsal: None while nothing is picked or something was not accepted."""

    asked: Asked
    unit: Unit[str]
    beds: Mapping[str, Bedside]
    shelf: Shelf
    counts: Counts
    knowledge: Knowledge
    rehearsal: Rehearsal[str] | None

    @property
    def result(self) -> Result | None:
        """The rehearsal in words."""
        if self.rehearsal is None:
            return None
        return result_of(self.rehearsal, self.beds, self.shelf, self.counts)


def play(request: Request, session: Session, given: Given) -> Played:
    """Read what is asked, and play it through on the unit as it is now."""
    state = request.app.state
    knowledge: Knowledge = state.knowledge
    shelf, counts = shelf_of(session), read_counts(session)
    means = Means(knowledge.catalogue, knowledge.ruleset, shelf.stock, counts)
    beds = {one.patient_id: one for one in review_unit(session, knowledge, state.kept_beds)}
    reviews = ((key, one.review) for key, one in beds.items())
    unit = Unit.of(reviews, means, knowledge.vehicles)
    asked = read_asked(given, knowledge.catalogue, shelf.now)
    rehearsal = None if asked.loss is None else rehearse(unit, asked.loss, means)
    return Played(asked, unit, beds, shelf, counts, knowledge, rehearsal)


def page_of(request: Request, played: Played, note: str = "", fault: str = "") -> ShortagePage:
    """The page for whoever asks. note, fault: of a plan that could not be kept."""
    person, now, result = person_of(request), played.shelf.now, played.result
    sees = person is not None and person.may(Act.SEE_PATIENTS)
    catalogue = played.knowledge.catalogue
    return ShortagePage(
        form=form_of(played.asked, played.unit, catalogue, played.counts, now),
        result=result if sees or result is None else without_patients(result),
        news=news_of(played.shelf.stock),
        moment=clock_and_day(now),
        version=played.knowledge.version,
        by=person.name if person else NOTHING,
        sees=sees,
        keeps=person is not None and person.may(Act.SIGN_NOTES),
        note=note,
        note_fault=fault,
    )
