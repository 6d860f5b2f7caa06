"""A predict request read: the patient, what runs in, what is lost, how far and how finely."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from math import ceil
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.intake.medicines.drug_list import read_medications
from app.intake.read import read_case
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.patient.snapshot import Snapshot
from app.physiology.course.body import Assumed
from app.physiology.course.loads import Load, Loss
from app.review.predict.infusions import Infusion, read_infusion
from app.review.predict.insulin import INSULIN, running_insulin
from app.review.predict.losses import read_losses
from app.review.predict.notes import Note, notes_of_patient, notes_of_questions
from app.review.predict.pace import MINUTES, WEEK_MIN

HORIZON: Final = Span(0, WEEK_MIN, "min", MINUTES, above=True)
STEP: Final = Span(0, WEEK_MIN, "min", MINUTES, above=True)
USUAL_HORIZON_MIN: Final = 240.0
USUAL_STEP_MIN: Final = 15.0
# As many as a day by the minute; so many where no step is given.
MOST_POINTS: Final = 1500
USUAL_POINTS: Final = 500
# So that two figures of the finest step are never finer than it.
ROUNDED_UP: Final = 1.05
MOST_INFUSIONS: Final = 100
MOST_LOSSES: Final = 20
PCO2_MODES: Final = {mode: mode for mode in ("constant", "responding")}


@dataclass(frozen=True, slots=True)
class Asked:
    """A request as understood. beside: insulin that runs by itself. assumed: what of it was not
    said; the rest is the patient's own.
    """

    patient: Snapshot
    infusions: tuple[Infusion, ...]
    losses: tuple[Loss, ...]
    horizon_min: float
    step_min: float
    responding_pco2: bool
    beside: tuple[Load, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def loads(self) -> tuple[Load, ...]:
        """All that runs in."""
        return (*(infusion.load for infusion in self.infusions), *self.beside)


def read_asked(
    request: Mapping[str, Any], *, catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> Asked:
    """What a predict request asks.

    now: used only when the request has none. Raises InputError, or InputErrors, for what has the
    wrong shape and for an infusion whose words may mean more than one thing.
    """
    problems = Problems()
    reader = Reader(request, "", problems)
    case = _case(reader, catalogue, vocabulary, now)
    book = name_book(catalogue, vocabulary)
    infusions = tuple(
        read_infusion(one, case.patient, book) for one in _some(reader, "infusions", MOST_INFUSIONS)
    )
    lost = read_losses(_some(reader, "losses", MOST_LOSSES), case.patient)
    times = _times(reader)
    mode = reader.choice("pco2_mode", PCO2_MODES)
    reader.ask_unknown()
    problems.stop_if_any()
    runs = tuple(one for one in infusions if one is not None)
    insulin = running_insulin(case.patient, times[0], _insulin_lines(reader, vocabulary))
    return Asked(
        case.patient, runs, lost.losses, *times, mode == "responding", insulin.loads,
        (*_assumed(reader, runs, times), *lost.assumed, *insulin.assumed),
        (
            *_notes(case, runs), *lost.notes, *insulin.notes,
            *notes_of_questions(problems.questions),
        ),
    )  # fmt: skip


def _insulin_lines(reader: Reader, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Every line of the medications that says insulin is given."""
    patient = reader.raw("patient")
    listed = patient.get("medications") if isinstance(patient, Mapping) else None
    lines = [listed] if isinstance(listed, str) else listed
    texts = [line for line in lines or () if isinstance(line, str)]
    return tuple(t for t in texts if INSULIN in read_medications((t,), vocabulary))


def _case(reader: Reader, catalogue: Catalogue, vocabulary: Vocabulary, now: datetime) -> Case:
    """The patient as any review reads one; what is wrong there is told with the rest."""
    told = {name: reader.raw(name) for name in ("now", "setting", "patient")}
    try:
        return read_case(told, catalogue=catalogue, vocabulary=vocabulary, now=now)
    except InputError as problem:
        reader.problems.errors.append(problem)
    except InputErrors as several:
        reader.problems.errors.extend(several.errors)
    return Case(Snapshot(now))


def _some(reader: Reader, name: str, most: int) -> tuple[Reader, ...]:
    readers = reader.readers(name)
    if len(readers) <= most:
        return readers
    reader.refuse(name, f"{len(readers)} entries", f"at most {most} entries")
    return ()


def _times(reader: Reader) -> tuple[float, float]:
    """How far and how finely, min; a step not given is the usual one or as fine as can be, and one
    that is longer than the horizon leads to it at once.
    """
    horizon_min = reader.number("horizon_min", HORIZON) or USUAL_HORIZON_MIN
    usual = max(USUAL_STEP_MIN, ceil(horizon_min / (USUAL_POINTS - 1)))
    step_min = min(reader.number("step_min", STEP) or usual, horizon_min)
    if ceil(horizon_min / step_min) + 1 > MOST_POINTS:
        finest = horizon_min / (MOST_POINTS - 1) * ROUNDED_UP
        accepted = (
            f"at least {finest:.2g} min for {horizon_min:g} min: at most {MOST_POINTS} points"
        )
        reader.refuse("step_min", step_min, accepted)
    return horizon_min, step_min


def _assumed(
    reader: Reader, infusions: tuple[Infusion, ...], times: tuple[float, float]
) -> Iterator[Assumed]:
    for name, value in zip(("horizon_min", "step_min"), times, strict=True):
        if reader.raw(name) in (None, ""):
            yield Assumed(name, value, "min", "not given: as usual here")
    for number, infusion in enumerate(infusions):
        if infusion.chloride_worked_out is not None:
            name = f"infusions[{number}].chloride"
            why = "no chloride is given: what balances the charges"
            yield Assumed(name, infusion.chloride_worked_out, "mmol/L", why)


def _notes(case: Case, infusions: tuple[Infusion, ...]) -> Iterator[Note]:
    yield from notes_of_questions(case.questions)
    yield from notes_of_patient(case.patient)
    for infusion in infusions:
        yield from infusion.notes
