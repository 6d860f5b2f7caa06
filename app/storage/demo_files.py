"""The demo unit's files: a unit, and one file a bed holding a request as a ward would write it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.reading import stock_from
from app.catalogue.stock.stock import StockState
from app.intake.errors import InputError
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.storage.patients import (
    CO_INFUSION_FIELDS,
    LUMEN_FIELDS,
    OBSERVATION_FIELDS,
    ORDER_FIELDS,
    PATIENT_FIELDS,
    Bed,
    Unit,
)
from app.storage.seed_files import SEED_DATA, read_toml

DEMO: Final = SEED_DATA / "demo"
UNIT_FIELDS: Final = frozenset({"id", "name", "zone", "fixed_now"})
ABOUT_THE_BED: Final = frozenset({"bed", "initials", "asked"})
BED_FIELDS: Final = ABOUT_THE_BED | {"setting", "patient", "orders", "co_infusions"}
PATIENT_PARTS: Final = frozenset({*PATIENT_FIELDS, "observations", "access"})


@dataclass(frozen=True, slots=True)
class BedFile:
    """A bed, and what is doubtful in it on purpose: fields ("orders[0].fluid") and words."""

    bed: Bed
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """What a bed's words are read with: the catalogue, the vocabulary, and the unit's moment."""

    catalogue: Catalogue
    vocabulary: Vocabulary
    now: datetime


def read_unit_file(path: Path = DEMO / "unit.toml") -> Unit:
    """The demo unit. Raises InputError naming the first wrong field, ValueError for bad TOML."""
    document = read_toml(path)
    _only(document, UNIT_FIELDS, "")
    fixed_now = document.get("fixed_now")
    if not isinstance(fixed_now, datetime) or fixed_now.tzinfo is None:
        raise InputError("fixed_now", fixed_now, "a date and time with its offset")
    zone = _text(document, "zone")
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise InputError("zone", zone, "a time zone such as UTC or Europe/Lisbon") from error
    return Unit(_text(document, "id"), _text(document, "name"), zone, fixed_now)


def read_stock_file(path: Path, catalogue: Catalogue) -> Mapping[str, StockState]:
    """Where the demo unit's fluids are, by id; nothing is told when there is no such file.

    Raises EntryError naming entry and field, ValueError for bad TOML.
    """
    return stock_from(read_toml(path), catalogue) if path.exists() else {}


def read_bed_file(path: Path) -> BedFile:
    """One bed; the patient's id is the file's name. Raises InputError, or ValueError (TOML)."""
    document = as_json(read_toml(path))
    _only(document, BED_FIELDS, "")
    patient = document.get("patient", {})
    _only(patient, PATIENT_PARTS, "patient.")
    for field, part, allowed in _parts(document):
        _only(part, allowed, f"{field}.")
    request = {key: document[key] for key in document if key not in ABOUT_THE_BED}
    request["patient"] = patient
    bed = Bed(path.stem, _text(document, "bed"), _text(document, "initials"), request)
    return BedFile(bed, tuple(document.get("asked", ())))


def read_case_of(bed: Bed, words: Words) -> Case:
    """The bed's words read. Raises InputError or InputErrors when one cannot be."""
    return read_case(
        bed.request, catalogue=words.catalogue, vocabulary=words.vocabulary, now=words.now
    )


def doubts_of(case: Case) -> dict[str, str]:
    """All that is doubtful in a case: a field, or a word not understood, with what to ask."""
    questions = (*case.questions, *(q for order in case.orders for q in order.questions))
    patient = case.patient
    unread = (*patient.conditions.unread, *patient.medications.unread)
    return {
        **{question.field: question.ask for question in questions},
        **dict.fromkeys(unread, "a word of seed_data/vocabulary"),
        **{c.name: "a drug of seed_data/vocabulary" for c in case.co_infusions if not c.key},
    }


def as_json(value: Any) -> Any:  # noqa: ANN401 - any TOML value
    """A TOML value as JSON would carry it: times become text."""
    if isinstance(value, Mapping):
        return {key: as_json(part) for key, part in value.items()}
    if isinstance(value, list):
        return [as_json(part) for part in value]
    return value.isoformat() if isinstance(value, datetime | date | time) else value


def _parts(document: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any], frozenset[str]]]:
    """Each row of a bed file with its path and the fields the database has for it."""
    patient = document.get("patient", {})
    lists = (
        ("patient.observations", patient.get("observations", []), OBSERVATION_FIELDS),
        ("patient.access", patient.get("access", []), ("id", *LUMEN_FIELDS[1:])),
        ("orders", document.get("orders", []), ("id", *ORDER_FIELDS[1:])),
        ("co_infusions", document.get("co_infusions", []), CO_INFUSION_FIELDS),
    )
    for name, rows, allowed in lists:
        for number, row in enumerate(rows):
            yield f"{name}[{number}]", row, frozenset(allowed)


def _only(table: Mapping[str, Any], allowed: frozenset[str], path: str) -> None:
    for key in table:
        if key not in allowed:
            raise InputError(f"{path}{key}", table[key], f"only {', '.join(sorted(allowed))}")


def _text(document: Mapping[str, Any], field: str) -> str:
    value = document.get(field)
    if not isinstance(value, str) or not value.strip():
        raise InputError(field, value, "a text that is not empty")
    return value
