"""A predict request into what the body would do. Nothing of it is kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from math import isfinite
from typing import Any, Final

import numpy as np

from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError
from app.intake.vocabulary import Vocabulary
from app.patient.snapshot import Snapshot
from app.physiology.course.bands import Band
from app.physiology.course.body import Assumed, BaselineError, Subject, subject_of
from app.physiology.course.course import Course, course_of
from app.review.predict.asked import Asked, read_asked
from app.review.predict.notes import (
    Note,
    notes_of_excess,
    notes_of_pace,
    starting_values,
    too_fast,
)

OF_THE_PATIENT: Final = "patient"
CHILDREN: Final = ("paediatric", "neonate")
# Nobody lives with less of the fluid outside cells, as a share (common practice, no source).
LEAST_LEFT: Final = 0.6
SURVIVED: Final = "losses that a body survives: with these two fifths of the fluid outside cells go"
SIGNED: Final = ("base_excess_mmol_l",)
RECKONED: Final = "amounts within what a body can take: with these no figure comes out"


@dataclass(frozen=True, slots=True)
class Prediction:
    """What was asked, the person it was reckoned for, and the course over time."""

    asked: Asked
    subject: Subject
    course: Course

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """Every value that nobody gave: of the person, then of the request."""
        return (*self.subject.assumed, *self.asked.assumed)

    @property
    def notes(self) -> tuple[Note, ...]:
        """How the request was read, then what of it the course does not show."""
        return (
            *self.asked.notes,
            *notes_of_excess(starting_values(self.asked.patient), self.subject),
            *notes_of_pace(self.asked.loads, self.subject.weight_kg),
        )

    @property
    def not_modelled(self) -> tuple[str, ...]:
        """What the course leaves out, above all of what was asked."""
        fast = too_fast(self.asked.loads, self.subject.weight_kg)
        return (*fast, *self.course.not_modelled)


def predict(
    request: Mapping[str, Any], *, catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> Prediction:
    """The prediction of one request (INTERFACES: POST /api/predict).

    now: used only when the request has none. Raises InputError or InputErrors, by field, for what
    cannot be read, may mean two things, or cannot be true together.
    """
    asked = read_asked(request, catalogue=catalogue, vocabulary=vocabulary, now=now)
    return predicted(asked)


def predicted(asked: Asked) -> Prediction:
    """The prediction of a request that was read. Raises InputError for a start that cannot be."""
    subject = _subject(asked)
    # Amounts that no body holds may overflow; what comes out is looked at instead.
    with np.errstate(all="ignore"):
        course = course_of(
            subject,
            asked.loads,
            asked.losses,
            horizon_min=asked.horizon_min,
            step_min=asked.step_min,
            responding_pco2=asked.responding_pco2,
        )
    if asked.losses and _least_left(course) < LEAST_LEFT:
        raise InputError("losses", _told(asked), SURVIVED)
    if not all(_can_be(name, band) for name, band in course.series.items()):
        raise InputError("infusions", _told(asked), RECKONED)
    return Prediction(asked, subject, course)


def _can_be(name: str, band: Band) -> bool:
    """Whether every number is one, and every volume and amount is there at all."""
    numbers = all(isfinite(value) for line in (band.mid, band.low, band.high) for value in line)
    return numbers and (name in SIGNED or min(band.mid) >= 0)


def _least_left(course: Course) -> float:
    """The least of what is outside cells that is left at any time, as a share of the start."""
    plasma, between = (
        course.series[f"{part}_volume_ml"].mid for part in ("plasma", "interstitial")
    )
    outside = [sum(both) for both in zip(plasma, between, strict=True)]
    return min(outside) / outside[0]


def _told(asked: Asked) -> str:
    given_l = sum(infusion.load.volume_l for infusion in asked.infusions)
    lost_ml_h = sum(loss.ml_h for loss in asked.losses)
    return f"{given_l:g} L given, {lost_ml_h:g} mL/h lost, over {asked.horizon_min:g} min"


def _subject(asked: Asked) -> Subject:
    patient = asked.patient
    if patient.age_years is None and patient.setting in CHILDREN and patient.weight_kg is None:
        raise InputError("patient.weight_kg", None, "a child's weight, kg")
    try:
        return subject_of(
            weight_kg=patient.weight_kg,
            age_years=_age_years(patient),
            sex=patient.sex,
            height_cm=patient.height_cm,
            results=starting_values(patient),
            conditions=patient.conditions.found,
        )
    except BaselineError as wrong:
        whole = wrong.field.startswith(OF_THE_PATIENT)
        field = wrong.field if whole else f"{OF_THE_PATIENT}.{wrong.field}"
        raise InputError(field, wrong.value, wrong.accepted) from wrong


def _age_years(patient: Snapshot) -> float | None:
    """The age; among newborns it may be taken from the place."""
    if patient.age_years is None and patient.setting == "neonate":
        return 0.0
    return patient.age_years
