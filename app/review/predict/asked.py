"""A predict request read: the patient, what runs in, what is lost, how far and how finely."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from math import ceil
from typing import Any, Final, cast

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.intake.read import URINE, read_case
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.patient.snapshot import Snapshot
from app.physiology.course.body import Assumed, is_scant
from app.physiology.course.loads import Loss, LossKind
from app.review.predict.infusions import MINUTES, WEEK_MIN, Infusion, read_infusion
from app.review.predict.notes import Note, notes_of_patient, notes_of_questions

HORIZON: Final = Span(1, WEEK_MIN, "min", MINUTES)
STEP: Final = Span(0.1, WEEK_MIN, "min", MINUTES)
USUAL_HORIZON_MIN: Final = 240.0
USUAL_STEP_MIN: Final = 15.0
MOST_POINTS: Final = 500
MOST_INFUSIONS: Final = 50
MOST_LOSSES: Final = 20
LOST: Final = Span(0, 5000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0})
LOSS_KINDS: Final = {kind: kind for kind in ("urine", "gastric", "blood", "insensible")}
PCO2_MODES: Final = {mode: mode for mode in ("constant", "responding")}


@dataclass(frozen=True, slots=True)
class Asked:
    """A request as understood. assumed: what of it was not said; the rest is the patient's own."""

    patient: Snapshot
    infusions: tuple[Infusion, ...]
    losses: tuple[Loss, ...]
    horizon_min: float
    step_min: float
    responding_pco2: bool
    assumed: tuple[Assumed, ...] = ()
    notes: tuple[Note, ...] = ()


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
    losses = tuple(_loss(one) for one in _some(reader, "losses", MOST_LOSSES))
    horizon_min, step_min = _times(reader)
    mode = reader.choice("pco2_mode", PCO2_MODES)
    reader.ask_unknown()
    problems.stop_if_any()
    runs = tuple(one for one in infusions if one is not None)
    lost = tuple(one for one in losses if one is not None)
    urine = _urine_of(case.patient, lost)
    return Asked(
        case.patient, runs, (*lost, *urine), horizon_min, step_min, mode == "responding",
        tuple(_assumed(reader, runs, urine, (horizon_min, step_min))),
        tuple(_notes(case, runs, problems)),
    )  # fmt: skip


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


def _loss(reader: Reader) -> Loss | None:
    kind, ml_h = reader.choice("kind", LOSS_KINDS), reader.number("ml_h", LOST)
    for name, accepted in (("kind", " or ".join(LOSS_KINDS)), ("ml_h", LOST.accepted)):
        if reader.raw(name) in (None, ""):
            reader.refuse(name, None, accepted)
    reader.ask_unknown()
    return None if kind is None or ml_h is None else Loss(cast(LossKind, kind), ml_h)


def _times(reader: Reader) -> tuple[float, float]:
    """How far and how finely, min; a step not given is the usual one or as fine as can be."""
    horizon_min = reader.number("horizon_min", HORIZON) or USUAL_HORIZON_MIN
    finest = ceil(horizon_min / (MOST_POINTS - 1))
    step_min = reader.number("step_min", STEP) or min(max(USUAL_STEP_MIN, finest), horizon_min)
    if ceil(horizon_min / step_min) + 1 > MOST_POINTS:
        accepted = f"at least {finest} min for {horizon_min:g} min: at most {MOST_POINTS} points"
        reader.refuse("step_min", step_min, accepted)
    elif step_min > horizon_min:
        reader.refuse("step_min", step_min, f"at most the horizon, {horizon_min:g} min")
    return horizon_min, step_min


def _urine_of(patient: Snapshot, losses: tuple[Loss, ...]) -> tuple[Loss, ...]:
    """Scant urine goes on as it is, unless the losses say what it will be."""
    if patient.urine_ml_h is None or any(loss.kind == "urine" for loss in losses):
        return ()
    if not is_scant(patient.urine_ml_h, patient.weight_kg):
        return ()
    return (Loss("urine", min(patient.urine_ml_h, URINE.high)),)


def _assumed(
    reader: Reader, infusions: tuple[Infusion, ...], urine: tuple[Loss, ...],
    times: tuple[float, float],
) -> Iterator[Assumed]:  # fmt: skip
    for name, value in zip(("horizon_min", "step_min"), times, strict=True):
        if reader.raw(name) in (None, ""):
            yield Assumed(name, value, "min", "not given: as usual here")
    for loss in urine:
        yield Assumed("urine", loss.ml_h, "mL/h", "the patient's urine now, taken to go on so")
    for number, infusion in enumerate(infusions):
        if infusion.chloride_worked_out is not None:
            name = f"infusions[{number}].chloride"
            why = "the label gives no chloride: what balances its charges"
            yield Assumed(name, infusion.chloride_worked_out, "mmol/L", why)


def _notes(case: Case, infusions: tuple[Infusion, ...], problems: Problems) -> Iterator[Note]:
    yield from notes_of_questions(case.questions)
    yield from notes_of_patient(case.patient)
    for infusion in infusions:
        yield from infusion.notes
    yield from notes_of_questions(problems.questions)
