"""Results as laboratories send them: named, in the project's unit, or doubted in words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import Final

from app.intake.request import Reader, readable_time
from app.intake.results.changes import in_order, one_calcium_in_doubt
from app.intake.results.figures import Doubt, Figure, NoResultYet, read_figure
from app.intake.results.in_unit import in_project_unit
from app.intake.results.names import Analyte, Unclear, analyte_of, settled
from app.intake.results.spoilt import why_spoilt
from app.intake.vocabulary import Vocabulary, fold
from app.patient.observation import Observation

CLOCK_SLACK: Final = timedelta(minutes=5)
REMARKS: Final = ("specimen", "note", "comment", "remark", "status", "interpretation")


@dataclass(frozen=True, slots=True)
class _Sent:
    """One result as sent. no_time: why its time cannot be read, "" when it can or is not given."""

    name: str
    value: object
    unit: str
    remark: str
    taken_at: datetime | None
    no_time: str
    zone_said: str

    @property
    def written(self) -> str:
        """The value with its unit, as it is shown."""
        return f"{self.value} {self.unit}".strip() if self.value is not None else "no value"


def read_observations(
    readers: tuple[Reader, ...], vocabulary: Vocabulary, now: datetime
) -> Mapping[str, tuple[Observation, ...]]:
    """Results by name, newest first; those without a time come last."""
    found: dict[str, list[Observation]] = {}
    for reader in readers:
        observation = _read(reader, vocabulary, now)
        if observation:
            found.setdefault(observation.name, []).append(observation)
    return MappingProxyType(
        one_calcium_in_doubt({name: in_order(group) for name, group in found.items()})
    )


def _read(reader: Reader, vocabulary: Vocabulary, now: datetime) -> Observation | None:
    """One result; None for one that is not there yet, or whose name is asked about."""
    key = (reader.text("name") or "", reader.label("loinc") or "")
    sent = _sent(reader, key[0], now)
    named = vocabulary.keep("analytes", key, lambda: analyte_of(*key, vocabulary))
    try:
        figure: Figure | Doubt = read_figure(sent.value, sent.unit, vocabulary.analytes)
    except NoResultYet:
        return None
    except Doubt as doubt:
        figure = doubt
    analyte = _settled(named, figure, vocabulary)
    if isinstance(analyte, Unclear):
        reader.ask("name", key[0] or key[1], analyte.ask)
        return None
    return _observation(analyte, sent, figure, now)


def _sent(reader: Reader, name: str, now: datetime) -> _Sent:
    value, unit, time = reader.raw("value"), reader.text("unit") or "", reader.raw("taken_at")
    remark = fold(" ".join(filter(None, (reader.text(f) for f in REMARKS if f in reader.data))))
    readable = readable_time(time)
    reader.problems.zoneless = False
    taken_at = reader.time("taken_at", now) if readable else None
    said = f"time without a zone read as {now.tzname()}" if reader.problems.zoneless else ""
    reader.ask_unknown()
    no_time = "" if readable else f"its time “{time}” cannot be read"
    return _Sent(name, value, unit, remark, taken_at, no_time, said)


def _settled(
    named: Analyte | Unclear, figure: Figure | Doubt, vocabulary: Vocabulary
) -> Analyte | Unclear:
    if isinstance(named, Analyte) or isinstance(figure, Doubt):
        return named
    return settled(named, figure.number, figure.unit, vocabulary) or named


def _observation(
    analyte: Analyte, sent: _Sent, figure: Figure | Doubt, now: datetime
) -> Observation:
    observation = Observation(analyte.key, None, analyte.unit, sent.taken_at, sent.written)
    try:
        if isinstance(figure, Doubt):
            raise figure
        _check(analyte, sent, f"{sent.remark} {figure.remark}".strip(), now)
        value, converted = in_project_unit(analyte, figure)
    except Doubt as doubt:
        name = sent.name or analyte.key
        return replace(observation, doubt=f"{name} {sent.written}: {doubt.text}")
    said = "; ".join(filter(None, (converted, sent.zone_said)))
    return replace(observation, value=value, converted=said)


def _check(analyte: Analyte, sent: _Sent, remark: str, now: datetime) -> None:
    """Raise Doubt for a time or a sample that forbids using the figure."""
    if sent.no_time:
        raise Doubt(sent.no_time)
    if sent.taken_at and sent.taken_at > now + CLOCK_SLACK:
        raise Doubt("its time lies in the future")
    spoilt = why_spoilt(analyte.key, remark)
    if spoilt:
        raise Doubt(spoilt)
