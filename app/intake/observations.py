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
    """One result as sent, but for its time."""

    name: str
    loinc: str
    value: object
    unit: str
    remark: str

    @property
    def written(self) -> str:
        """The value with its unit, as it is shown."""
        return f"{self.value} {self.unit}".strip() if self.value is not None else "no value"


@dataclass(frozen=True, slots=True)
class _Meant:
    """What it means whenever it was taken: the result, or what to ask of its name.

    observation: without its time; None when there is no result yet, or its name is unclear.
    """

    observation: Observation | None = None
    ask: str = ""


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
    remark = fold(" ".join(filter(None, (reader.text(f) for f in REMARKS if f in reader.data))))
    sent = _Sent(
        reader.text("name") or "", reader.label("loinc") or "", reader.raw("value"),
        reader.text("unit") or "", remark,
    )  # fmt: skip
    timed, taken_at, zone_said = _taken_at(reader, now)
    reader.ask_unknown()
    meant = _meant_once(sent, vocabulary)
    if meant.ask:
        reader.ask("name", sent.name or sent.loinc, meant.ask)
    if meant.observation is None:
        return None
    doubt = _doubt_of_time(timed, taken_at, now)
    if doubt:
        doubt = f"{sent.name or meant.observation.name} {sent.written}: {doubt}"
        return replace(meant.observation, taken_at=taken_at, value=None, doubt=doubt, converted="")
    if not zone_said or meant.observation.doubt:
        return replace(meant.observation, taken_at=taken_at)
    said = "; ".join(filter(None, (meant.observation.converted, zone_said)))
    return replace(meant.observation, taken_at=taken_at, converted=said)


def _taken_at(reader: Reader, now: datetime) -> tuple[str, datetime | None, str]:
    """Why the time cannot be read ("" when it can or is not given), the time, and what was
    assumed of its zone.
    """
    time = reader.raw("taken_at")
    if not readable_time(time):
        return f"its time “{time}” cannot be read", None, ""
    reader.problems.zoneless = False
    taken_at = reader.time("taken_at", now)
    said = f"time without a zone read as {now.tzname()}" if reader.problems.zoneless else ""
    return "", taken_at, said


def _doubt_of_time(unreadable: str, taken_at: datetime | None, now: datetime) -> str:
    late = taken_at is not None and taken_at > now + CLOCK_SLACK
    return unreadable or ("its time lies in the future" if late else "")


def _meant_once(sent: _Sent, vocabulary: Vocabulary) -> _Meant:
    """What a result means, kept: the same few figures come again with every review."""
    if not isinstance(sent.value, str | int | float | None):
        return _meant(sent, vocabulary)
    # True and 1 are one key to a dictionary, and are not one value.
    key = (sent, type(sent.value))
    return vocabulary.keep("results", key, lambda: _meant(sent, vocabulary))


def _meant(sent: _Sent, vocabulary: Vocabulary) -> _Meant:
    named = vocabulary.keep(
        "analytes", (sent.name, sent.loinc), lambda: analyte_of(sent.name, sent.loinc, vocabulary)
    )
    try:
        figure: Figure | Doubt = read_figure(sent.value, sent.unit, vocabulary.analytes)
    except NoResultYet:
        return _Meant()
    except Doubt as doubt:
        figure = doubt
    if isinstance(named, Unclear) and isinstance(figure, Figure):
        named = settled(named, figure.number, figure.unit, vocabulary) or named
    if isinstance(named, Unclear):
        return _Meant(ask=named.ask)
    return _Meant(_observation(named, sent, figure))


def _observation(analyte: Analyte, sent: _Sent, figure: Figure | Doubt) -> Observation:
    observation = Observation(analyte.key, None, analyte.unit, None, sent.written)
    try:
        if isinstance(figure, Doubt):
            raise figure
        spoilt = why_spoilt(analyte.key, f"{sent.remark} {figure.remark}".strip())
        if spoilt:
            raise Doubt(spoilt)
        value, converted = in_project_unit(analyte, figure)
    except Doubt as doubt:
        name = sent.name or analyte.key
        return replace(observation, doubt=f"{name} {sent.written}: {doubt.text}")
    return replace(observation, value=value, converted=converted)
