"""The patient a comparison is made for: results with their age, and what is lacking, said."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sqlalchemy.orm import Session

from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot
from app.review.workflow import Bedside
from app.storage.patients import read_names, read_unit
from app.web.show import person_age, weight

# Results that have a row beside a fluid's figures, by the row's key.
RESULT_OF_ROW: Final = {
    "sodium": "sodium", "potassium": "potassium", "calcium": "calcium_ionised",
    "magnesium": "magnesium", "chloride": "chloride", "bicarbonate": "bicarbonate",
    "lactate": "lactate", "phosphate": "phosphate", "glucose": "glucose", "albumin": "albumin",
    "ph": "ph", "osmolarity_labelled": "osmolality",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class OwnResults:
    """Usable results by the project's names; ages and lacks by the row they stand in."""

    values: Mapping[str, float]
    ages: Mapping[str, str]
    lacks: Mapping[str, str]


def own_results(patient: Snapshot) -> OwnResults:
    """The patient's newest results. A stale or doubtful one is a lack with its reason."""
    values: dict[str, float] = {}
    ages: dict[str, str] = {}
    lacks: dict[str, str] = {}
    for row, name in RESULT_OF_ROW.items():
        try:
            values[name] = patient.value(name)
            ages[row] = _age(patient, name)
        except NotKnown as lack:
            lacks[row] = "no result" if lack.why == "missing" else lack.detail
    return OwnResults(values, ages, lacks)


def _age(patient: Snapshot, name: str) -> str:
    result = patient.result(name)
    return "age not known" if result.taken_at is None else f"{patient.age_text(result)} old"


def who(bedside: Bedside) -> str:
    """The patient in a line: bed, initials, age and weight."""
    patient = bedside.review.case.patient
    parts = (f"Bed {bedside.bed}", bedside.initials, person_age(patient.age_years))
    return " · ".join((*parts, weight(patient.weight_kg)))


def patient_choices(session: Session) -> tuple[tuple[str, str], ...]:
    """Every patient of the unit, to be picked from: id and words."""
    unit = read_unit(session)
    names = () if unit is None else read_names(session, unit.id)
    return tuple((patient_id, f"Bed {bed} · {initials}") for patient_id, bed, initials in names)
