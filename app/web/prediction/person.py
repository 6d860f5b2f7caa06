"""Whom a what-if is for: a patient of the unit with results as measured, or figures as typed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from types import MappingProxyType
from typing import Final

from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import Snapshot, Words
from app.physiology.course.body import BaselineError, Subject, is_scant, subject_of
from app.review.workflow import Bedside
from app.web.comparison.bedside import who
from app.web.pictures.curves import Result
from app.web.prediction.asked import Asked
from app.web.prediction.fields import ACUTE, LONGER, RESPONDS, RESULT_NUMBERS, Sex
from app.web.show import amount, capital, clock, name_text

SECONDS_PER_HOUR: Final = 3600.0
# Results that a course starts from, by the project's names.
STARTS_FROM: Final = (
    "sodium", "potassium", "chloride", "bicarbonate", "ph", "pco2", "base_excess", "albumin",
    "phosphate", "lactate", "glucose", "haematocrit", "haemoglobin", "osmolality", "urea",
)  # fmt: skip
# Those that are better old than out of a textbook; figures of one gas belong together.
USED_OLD: Final = ("sodium", "potassium", "chloride", "glucose", "haematocrit", "haemoglobin")
PLACES: Final = 2
# A sodium outside these, mmol/L, has been so for under 48 h or for longer.
USUAL_SODIUM: Final = (135.0, 145.0)
SHORT_LOW, SHORT_HIGH = "acute_hyponatraemia", "acute_hypernatraemia"
SHORT: Final = (SHORT_LOW, SHORT_HIGH)
LONG: Final = ("chronic_hyponatraemia", "chronic_hypernatraemia")


@dataclass(frozen=True, slots=True)
class Person:
    """What is known of one. measured: results in time, by name. unused: results left out, and why.

    old: how old the results are that are past their time and used for want of better, by name.
    urine_ml_h: None when not known. called: empty for nobody of the unit. case: what the rules
    look at, with what was chosen here; None where nobody said when. recorded_onset: the record's
    words for a sodium that has been so for under 48 h. responds: breathing answers.
    """

    called: str = ""
    weight_kg: float | None = None
    age_years: float | None = None
    sex: Sex | None = None
    height_cm: float | None = None
    results: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    conditions: frozenset[str] = frozenset()
    measured: Mapping[str, tuple[Result, ...]] = field(default_factory=lambda: MappingProxyType({}))
    unused: tuple[str, ...] = ()
    urine_ml_h: float | None = None
    case: Case | None = None
    recorded_onset: str = ""
    responds: bool = False
    old: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def subject(self) -> Subject:
        """As the model begins with; without old results where they do not fit the newer ones.

        Raises BaselineError for figures that cannot be together.
        """
        newer = {name: value for name, value in self.results.items() if name not in self.old}
        try:
            return self._subject(self.results)
        except BaselineError:
            if len(newer) == len(self.results):
                raise
        return self._subject(newer)

    def _subject(self, results: Mapping[str, float]) -> Subject:
        return subject_of(
            weight_kg=self.weight_kg,
            age_years=self.age_years,
            sex=self.sex,
            height_cm=self.height_cm,
            results=results,
            conditions=self.conditions,
        )

    @property
    def snapshot(self) -> Snapshot | None:
        """The patient as the rules see one."""
        return None if self.case is None else self.case.patient

    @property
    def orders(self) -> tuple[Order, ...]:
        """What is ordered already."""
        return () if self.case is None else self.case.orders


def person_of(asked: Asked, bedside: Bedside | None, now: datetime | None = None) -> Person:
    """The patient found, or else the person typed. now: when that was typed."""
    if bedside is None:
        return _typed(asked, now)
    case = bedside.review.case
    sodium = case.patient.value_or_none("sodium")
    conditions = _with_onset(case.patient.conditions, asked, sodium)
    case = replace(case, patient=replace(case.patient, conditions=conditions))
    patient = case.patient
    known = _known_of(patient)
    return Person(
        called=who(bedside),
        weight_kg=patient.weight_kg,
        age_years=patient.age_years,
        sex=patient.sex,
        height_cm=patient.height_cm,
        results=known.results,
        conditions=conditions.found,
        measured={name: _measured(patient, name) for name in STARTS_FROM},
        unused=known.unused,
        old=known.old,
        urine_ml_h=asked.values.get("urine", _scant_urine(patient)),
        case=case,
        recorded_onset=next(_onset_words(bedside.review.case.patient.conditions), ""),
        responds=asked.is_chosen("breathing", RESPONDS),
    )


@dataclass(frozen=True, slots=True)
class _Known:
    """Results to begin with, those of them that are old with their age, and those left out."""

    results: Mapping[str, float]
    old: Mapping[str, str]
    unused: tuple[str, ...]


def _known_of(patient: Snapshot) -> _Known:
    """A result that is old comes before one out of a textbook, and is said to be old."""
    results: dict[str, float] = {}
    old: dict[str, str] = {}
    unused: list[str] = []
    for name in STARTS_FROM:
        try:
            results[name] = patient.value(name)
        except NotKnown as lack:
            newest = next(iter(patient.results.get(name, ())), None)
            if lack.why == "stale" and name in USED_OLD and newest and newest.value is not None:
                results[name], old[name] = newest.value, patient.age_text(newest)
            elif lack.why != "missing":
                unused.append(f"{capital(name_text(name))}: {lack.detail}")
    return _Known(MappingProxyType(results), MappingProxyType(old), tuple(unused))


def _onset_words(conditions: Words) -> Iterator[str]:
    for key in SHORT:
        if key in conditions:
            yield conditions.detail.get(key, key.replace("_", " "))


def _with_onset(conditions: Words, asked: Asked, sodium_mmol_l: float | None) -> Words:
    """The record, or what was chosen here instead of it for a sodium that is not usual."""
    if asked.is_chosen("onset", LONGER):
        return replace(conditions, found=conditions.found.difference(SHORT))
    low, high = USUAL_SODIUM
    if sodium_mmol_l is None or not asked.is_chosen("onset", ACUTE):
        return conditions
    if low <= sodium_mmol_l <= high:
        return conditions
    short = SHORT_LOW if sodium_mmol_l < low else SHORT_HIGH
    return replace(conditions, found=conditions.found.difference(LONG) | {short})


def _measured(patient: Snapshot, name: str) -> tuple[Result, ...]:
    """Usable results of one name, oldest first; one without a time stands at now."""
    usable = [one for one in patient.results.get(name, ()) if one.value is not None]
    return tuple(_result(one, patient) for one in reversed(usable))


def _result(one: Observation, patient: Snapshot) -> Result:
    age = one.age(patient.now)
    hours = 0.0 if age is None else -max(0.0, age.total_seconds() / SECONDS_PER_HOUR)
    value = amount(one.value, one.unit, PLACES)
    return Result(hours, one.value or 0.0, f"measured {value}, {clock(one.taken_at, patient.now)}")


def _typed(asked: Asked, now: datetime | None) -> Person:
    conditions = _with_onset(Words(asked.conditions), asked, asked.results.get("sodium"))
    return Person(
        weight_kg=asked.values.get("weight"),
        age_years=asked.values.get("age"),
        sex=asked.sex,
        height_cm=asked.values.get("height"),
        results=asked.results,
        conditions=conditions.found,
        measured={
            name: (Result(0.0, value, f"as typed: {amount(value, '', PLACES)}"),)
            for name, value in asked.results.items()
        },
        urine_ml_h=asked.values.get("urine"),
        case=None if now is None else Case(_typed_snapshot(asked, conditions, now)),
        responds=asked.is_chosen("breathing", RESPONDS),
    )


def _typed_snapshot(asked: Asked, conditions: Words, now: datetime) -> Snapshot:
    """The person typed, every result taken now."""
    results = {
        name: (Observation(name, value, RESULT_NUMBERS[name].unit, now),)
        for name, value in asked.results.items()
    }
    return Snapshot(
        now=now,
        age_years=asked.values.get("age"),
        sex=asked.sex,
        weight_kg=asked.values.get("weight"),
        height_cm=asked.values.get("height"),
        conditions=conditions,
        results=results,
        urine_ml_h=asked.values.get("urine"),
    )


def _scant_urine(patient: Snapshot) -> float | None:
    """Urine so little that it is counted unasked."""
    urine = patient.urine_ml_h
    return urine if urine is not None and is_scant(urine, patient.weight_kg) else None
