"""What was doubtful in a request, how it was taken all the same, and what was left out."""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta
from math import isclose
from typing import Final

from app.patient.observation import Observation
from app.patient.order import Question
from app.patient.snapshot import Snapshot
from app.physiology.acid_base import standard_base_excess_mmol_l
from app.physiology.course.body import Subject
from app.physiology.course.loads import Load, potassium_mmol_h

OBSERVATIONS: Final = "patient.observations"
INFUSIONS: Final = "infusions"
MEDICATIONS: Final = "patient.medications"
INSULIN: Final = "insulin"
# An older result says nothing of where this patient starts (common practice, no source).
TOO_OLD: Final = timedelta(days=7)
# Figures that must be of one time to be put together, and how near (common practice, no source).
OF_A_GAS: Final = ("ph", "pco2", "bicarbonate", "base_excess")
EXCESS: Final = "base_excess"
# A base excess that is further off, mmol/L, is not that of the same gas (common practice).
SAME_EXCESS: Final = 1.0
# Two results that differ by less are one, rounded.
SAME_RESULT: Final = 0.001
# Above this the middle of all fluid outside cells no longer tells what reaches the heart, mmol/kg/h
# (common practice, no source).
FAST_POTASSIUM: Final = 0.5
TOO_FAST: Final = (
    "potassium above 0.5 mmol/kg/h: plasma that reaches the heart may stand far higher than shown"
)
ONE_GAS_WITHIN: Final = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Note:
    """One thing to know of how the request was read: the field, what was written, what of it."""

    field: str
    written: str
    text: str


def notes_of_questions(questions: Iterable[Question]) -> Iterator[Note]:
    """What would be asked of the writer, with the choices there are."""
    for question in questions:
        yield Note(question.field, question.written, question_text(question))


def question_text(question: Question) -> str:
    """A question with its choices, for one line."""
    return f"{question.ask} ({' / '.join(question.choices)})" if question.choices else question.ask


def starting_values(patient: Snapshot) -> dict[str, float]:
    """The newest usable value of each result, in the project's units, be it some days old: that is
    nearer to the patient than a usual one, and its age is noted.
    """
    newest = {name: _usable(group, patient) for name, group in patient.results.items()}
    apart = {one.name for one in _of_another_gas(patient)}
    values = {
        name: one.value
        for name, one in newest.items()
        if one and one.value is not None and name not in apart
    }
    if _stands_in(values):
        values["bicarbonate"] = values["total_co2"]
    return values


def _stands_in(values: Container[str]) -> bool:
    """Whether total carbon dioxide is taken as bicarbonate: where nothing nearer to it is known."""
    of_gas = "ph" in values and "pco2" in values
    return "total_co2" in values and "bicarbonate" not in values and not of_gas


def _of_another_gas(patient: Snapshot) -> list[Observation]:
    """Figures of a gas that are hours older than the newest of it: they are of another time."""
    found = (_usable(patient.results.get(name, ()), patient) for name in OF_A_GAS)
    timed = [(one, one.taken_at) for one in found if one is not None and one.taken_at is not None]
    if not timed:
        return []
    last = max(at for _, at in timed)
    return [one for one, at in timed if last - at > ONE_GAS_WITHIN]


def notes_of_patient(patient: Snapshot) -> Iterator[Note]:
    """Results in doubt, old or converted, words not read, and drugs, which are not reckoned; of
    insulin something is said elsewhere.
    """
    for group in patient.results.values():
        yield from _notes_of_result(group, patient)
    for one in _of_another_gas(patient):
        text = f"Not used: this {one.name.replace('_', ' ')} is of an earlier gas than the rest."
        yield Note(OBSERVATIONS, one.as_written, text)
    if _stands_in(patient.results):
        text = "Total carbon dioxide is taken as bicarbonate; it is about 1 mmol/L more."
        yield Note(OBSERVATIONS, "total_co2", text)
    for words in patient.conditions.unread:
        yield Note("patient.conditions", words, "These words are not understood and not used.")
    insulin = patient.medications.detail.get(INSULIN)
    for name in patient.medications.as_written:
        if name != insulin:
            yield Note(MEDICATIONS, name, "What drugs do is not in this prediction.")


def _usable(group: Iterable[Observation], patient: Snapshot) -> Observation | None:
    usable = (one for one in group if one.value is not None)
    return next((one for one in usable if not _too_old(one, patient)), None)


def _too_old(one: Observation, patient: Snapshot) -> bool:
    age = one.age(patient.now)
    return age is not None and age > TOO_OLD


def _notes_of_result(group: tuple[Observation, ...], patient: Snapshot) -> Iterator[Note]:
    newest, used = group[0], _usable(group, patient)
    if newest.value is None:
        yield Note(OBSERVATIONS, newest.as_written, f"Not used: {newest.doubt}")
    elif used is None:
        text = f"Not used: this {newest.name.replace('_', ' ')} is {patient.age_text(newest)} old."
        yield Note(OBSERVATIONS, newest.as_written, text)
    if used is None:
        return
    yield from _notes_of_others(used, group)
    if used.is_stale(patient.now):
        text = f"The last {used.name.replace('_', ' ')} is {patient.age_text(used)} old: the start"
        yield Note(OBSERVATIONS, used.as_written, f"{text} may no longer be so.")
    if used.converted:
        yield Note(OBSERVATIONS, used.as_written, f"{used.converted}.")


def _notes_of_others(used: Observation, group: tuple[Observation, ...]) -> Iterator[Note]:
    """Results of the same time that say otherwise."""
    for one in group:
        if one.value is None or used.value is None or one.taken_at != used.taken_at:
            continue
        if not isclose(one.value, used.value, rel_tol=SAME_RESULT):
            name = used.name.replace("_", " ")
            text = f"Not used: another {name} of the same time, {used.as_written}, is."
            yield Note(OBSERVATIONS, one.as_written, text)


def notes_of_excess(results: Mapping[str, float], subject: Subject) -> Iterator[Note]:
    """What became of a base excess that was sent.

    results: what the course starts from, in the project's units.
    """
    if EXCESS not in results:
        return
    sent = f"base excess {results[EXCESS]:g} mmol/L"
    if not any(name in results for name in OF_A_GAS if name != EXCESS):
        text = (
            "Not used: base excess alone says neither bicarbonate nor carbon dioxide. Send pH, pCO2"
            " or bicarbonate with it."
        )
        yield Note(OBSERVATIONS, sent, text)
        return
    shown = standard_base_excess_mmol_l(subject.bicarbonate_mmol_l, subject.ph)
    if abs(shown - results[EXCESS]) > SAME_EXCESS:
        text = f"pH, carbon dioxide and bicarbonate come to {shown:.1f}, which is reckoned with."
        yield Note(OBSERVATIONS, sent, text)


def notes_of_pace(loads: Iterable[Load], weight_kg: float) -> Iterator[Note]:
    """What runs faster than the model can tell of."""
    fastest = potassium_mmol_h(tuple(loads)) / weight_kg
    if fastest > FAST_POTASSIUM:
        yield Note(INFUSIONS, f"{fastest:.1f} mmol/kg/h", f"{TOO_FAST[0].upper()}{TOO_FAST[1:]}.")


def too_fast(loads: Iterable[Load], weight_kg: float) -> tuple[str, ...]:
    """The same among what is not modelled."""
    return tuple(TOO_FAST for _ in notes_of_pace(loads, weight_kg))
