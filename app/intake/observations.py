"""Results as laboratories send them: named, in the project's unit, or doubted in words."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any, Final

from app.chemistry.clinical_units import to_project_unit
from app.chemistry.errors import UnitError
from app.intake.request import Reader, read_number
from app.intake.vocabulary import Vocabulary
from app.patient.observation import Observation

EPOCH: Final = datetime.min


def read_observations(
    readers: tuple[Reader, ...], vocabulary: Vocabulary, now: datetime
) -> Mapping[str, tuple[Observation, ...]]:
    """Results by name, newest first; those without a time come last."""
    found: dict[str, list[Observation]] = {}
    for reader in readers:
        observation = _read(reader, vocabulary, now)
        if observation:
            found.setdefault(observation.name, []).append(observation)
    return MappingProxyType({name: _newest_first(group) for name, group in found.items()})


def _newest_first(group: list[Observation]) -> tuple[Observation, ...]:
    return tuple(
        sorted(group, key=lambda o: o.taken_at.timestamp() if o.taken_at else 0.0, reverse=True)
    )


def _read(reader: Reader, vocabulary: Vocabulary, now: datetime) -> Observation | None:
    name = reader.text("name") or ""
    loinc = reader.label("loinc")
    unit = reader.text("unit")
    value = reader.raw("value")
    taken_at = reader.time("taken_at", now)
    code = vocabulary.loinc.get(loinc or "")
    meaning = vocabulary.analytes.get(name)
    key = str(code["name"]) if code else meaning.key if meaning else ""
    written = f"{value} {unit or ''}".strip()
    if not key:
        reader.ask("name", name or loinc, "Which result is this?")
        return None
    entry: Mapping[str, Any] = vocabulary.tables["observations"]["analyte"][key]
    number = read_number(value, {})
    if number is None:
        return Observation(key, None, entry["unit"], taken_at, written, "the value is not a number")
    try:
        converted = to_project_unit(key, number, unit or entry["unit"])
    except UnitError as error:
        return Observation(key, None, entry["unit"], taken_at, written, str(error))
    low, high = entry["possible"]
    if not low <= converted <= high:
        doubt = f"{written} is not possible; expected {low:g} to {high:g} {entry['unit']}"
        return Observation(key, None, entry["unit"], taken_at, written, doubt)
    return Observation(key, converted, entry["unit"], taken_at, written)
