"""Whom a what-if is for: a patient of the unit with results as measured, or figures as typed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.snapshot import Snapshot
from app.physiology.course.body import Subject, is_scant, subject_of
from app.review.workflow import Bedside
from app.web.comparison.bedside import who
from app.web.pictures.curves import Result
from app.web.prediction.asked import Asked, Sex
from app.web.show import amount, capital, clock, name_text

SECONDS_PER_HOUR: Final = 3600.0
# Results that a course starts from, by the project's names.
STARTS_FROM: Final = (
    "sodium", "potassium", "chloride", "bicarbonate", "ph", "pco2", "base_excess", "albumin",
    "phosphate", "lactate", "glucose", "haematocrit", "haemoglobin", "osmolality", "urea",
)  # fmt: skip
PLACES: Final = 2


@dataclass(frozen=True, slots=True)
class Person:
    """What is known of one. measured: results in time, by name. unused: results left out, and why.

    urine_ml_h: None when not known. called: empty for nobody of the unit.
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

    def subject(self) -> Subject:
        """As the model begins with. Raises BaselineError for figures that cannot be together."""
        return subject_of(
            weight_kg=self.weight_kg,
            age_years=self.age_years,
            sex=self.sex,
            height_cm=self.height_cm,
            results=self.results,
            conditions=self.conditions,
        )


def person_of(asked: Asked, bedside: Bedside | None) -> Person:
    """The patient found, or else the person typed."""
    if bedside is None:
        return _typed(asked)
    patient = bedside.review.case.patient
    results: dict[str, float] = {}
    unused: list[str] = []
    for name in STARTS_FROM:
        try:
            results[name] = patient.value(name)
        except NotKnown as lack:
            unused += (
                [] if lack.why == "missing" else [f"{capital(name_text(name))}: {lack.detail}"]
            )
    return Person(
        called=who(bedside),
        weight_kg=patient.weight_kg,
        age_years=patient.age_years,
        sex=patient.sex,
        height_cm=patient.height_cm,
        results=results,
        conditions=patient.conditions.found,
        measured={name: _measured(patient, name) for name in STARTS_FROM},
        unused=tuple(unused),
        urine_ml_h=asked.values.get("urine", _scant_urine(patient)),
    )


def _measured(patient: Snapshot, name: str) -> tuple[Result, ...]:
    """Usable results of one name, oldest first; one without a time stands at now."""
    usable = [one for one in patient.results.get(name, ()) if one.value is not None]
    return tuple(_result(one, patient) for one in reversed(usable))


def _result(one: Observation, patient: Snapshot) -> Result:
    age = one.age(patient.now)
    hours = 0.0 if age is None else -max(0.0, age.total_seconds() / SECONDS_PER_HOUR)
    value = amount(one.value, one.unit, PLACES)
    return Result(hours, one.value or 0.0, f"measured {value}, {clock(one.taken_at, patient.now)}")


def _typed(asked: Asked) -> Person:
    return Person(
        weight_kg=asked.values.get("weight"),
        age_years=asked.values.get("age"),
        sex=asked.sex,
        results=asked.results,
        measured={
            name: (Result(0.0, value, f"as typed: {amount(value, '', PLACES)}"),)
            for name, value in asked.results.items()
        },
        urine_ml_h=asked.values.get("urine"),
    )


def _scant_urine(patient: Snapshot) -> float | None:
    """Urine so little that it is counted unasked."""
    urine = patient.urine_ml_h
    return urine if urine is not None and is_scant(urine, patient.weight_kg) else None
