"""Results as laboratories send them: named, in the project's unit, or doubted in words."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from types import MappingProxyType
from typing import Any, Final

from app.chemistry.clinical_units import BY_SPELLING, canonical_unit, to_project_unit
from app.chemistry.errors import UnitError
from app.intake.request import Reader, read_number
from app.intake.vocabulary import Meaning, Vocabulary, fold
from app.patient.observation import Observation

CLOCK_SLACK: Final = timedelta(minutes=5)
OLDEST: Final = datetime.min.replace(tzinfo=UTC)
# Two figures of one analyte at one moment that differ by more cannot both be right.
SAME_WITHIN: Final = 0.05
SAME_WITHIN_PH: Final = 0.005
# The ionised share of total calcium is about half, and never over 70% (textbook, from memory).
CALCIUMS: Final = ("calcium_ionised", "calcium_total")
IONISED_AT_MOST: Final = 0.7
IONISED_HIGH_MMOL_L: Final = 1.4
ONE_SAMPLE: Final = timedelta(hours=1)
REMARKS: Final = ("specimen", "note", "comment", "remark", "status", "interpretation")
HAEMOLYSED: Final = re.compile(r"h(?:a)?emoly[sz]|\bhaemol\b|\bhemol\b")
SPOILT: Final = re.compile(
    r"clott|drip arm|contaminat|insufficient|diluted|iv arm|infusion arm"
    r"|wrong (?:patient|blood|tube)"
    r"|entered[- ]in[- ]error|cancelled|canceled|unsuitable|not valid|invalid"
    r"|error|above (?:the )?drip|from (?:the )?line running"
)
HARMED_BY_HAEMOLYSIS: Final = frozenset({"potassium", "phosphate", "magnesium"})
BOUND: Final = re.compile(r"([<>]=?|≤|≥|under|over|above|below)\s*(\d+(?:\.\d+)?)\s*(.*)")
BOUND_WORDS: Final = {"<": "under", "≤": "at most", ">": "over", "≥": "at least", "<=": "at most",
                      ">=": "at least"}  # fmt: skip
NUMBER_FIRST: Final = re.compile(r"([+-]?\s?(?:\d+(?:[.,]\d+)?|\.\d+))\s*(\D.*)?")
THOUSANDS: Final = re.compile(r"\d+,\d{3}")
MASS_UNITS: Final = frozenset({"mg/dL", "g/dL", "g/L", "mg/L"})
MOLE_UNITS: Final = frozenset({"mmol/L", "umol/L", "mEq/L"})
NITROGEN: Final = "urea_nitrogen"


@dataclass(frozen=True, slots=True)
class Doubt(Exception):
    """Why a figure cannot be used, as a person should read it."""

    text: str


@dataclass(frozen=True, slots=True)
class Analyte:
    """Which result it is, and how its figure is to be read.

    entry: the vocabulary's row. factors_of: whose unit factors apply. code: the LOINC row.
    """

    key: str
    entry: Mapping[str, Any]
    factors_of: str
    flip: bool = False
    code: Mapping[str, Any] | None = None

    @property
    def unit(self) -> str:
        """The project's unit."""
        return str(self.entry["unit"])


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
        one_calcium_in_doubt({name: _in_order(group) for name, group in found.items()})
    )


def one_calcium_in_doubt(
    results: dict[str, tuple[Observation, ...]],
) -> dict[str, tuple[Observation, ...]]:
    """Doubt the calcium that cannot be right beside the other: about half of it is ionised.

    A high ionised one is then the total filed under the wrong name; else the total is too low.
    """
    ionised, total = (next(iter(results.get(name, ())), None) for name in CALCIUMS)
    if not ionised or not total or ionised.value is None or total.value is None:
        return results
    if ionised.value <= IONISED_AT_MOST * total.value or not _of_one_time(ionised, total):
        return results
    wrong, other = (ionised, total) if ionised.value > IONISED_HIGH_MMOL_L else (total, ionised)
    what = "total" if wrong is ionised else "ionised"
    doubt = f"{wrong.as_written} does not fit a {what} calcium of {other.as_written}: which is it?"
    doubted = replace(wrong, value=None, doubt=doubt)
    return {**results, wrong.name: (doubted, *results[wrong.name][1:])}


def _of_one_time(first: Observation, second: Observation) -> bool:
    if first.taken_at is None or second.taken_at is None:
        return True
    return abs(first.taken_at - second.taken_at) <= ONE_SAMPLE


def _in_order(group: list[Observation]) -> tuple[Observation, ...]:
    """Newest first, without repeats; figures that contradict each other are doubted."""
    kept: list[Observation] = []
    for one in sorted(group, key=lambda o: o.taken_at or OLDEST, reverse=True):
        twin = next((k for k in kept if k.taken_at == one.taken_at and k.taken_at), None)
        if twin is None or twin.value is None or one.value is None:
            kept.append(one)
        elif _contradict(twin, one):
            doubt = f"{twin.as_written} and {one.as_written} at the same time: which is right?"
            kept[kept.index(twin)] = replace(twin, value=None, doubt=doubt)
    return tuple(sorted(kept, key=lambda o: o.taken_at or OLDEST, reverse=True))


def _contradict(first: Observation, second: Observation) -> bool:
    if first.value is None or second.value is None:
        return False
    within = SAME_WITHIN_PH if first.name == "ph" else SAME_WITHIN
    return abs(first.value - second.value) > within * max(abs(first.value), abs(second.value))


def _read(reader: Reader, vocabulary: Vocabulary, now: datetime) -> Observation | None:
    name, loinc = reader.text("name") or "", reader.label("loinc") or ""
    value, unit = reader.raw("value"), reader.text("unit") or ""
    taken_at, zone_said = _taken_at(reader, now)
    remark = fold(" ".join(filter(None, (reader.text(f) for f in REMARKS if f in reader.data))))
    reader.ask_unknown()
    key = (name, loinc)
    analyte = vocabulary.keep("analytes", key, lambda: _analyte(*key, vocabulary))
    if analyte is None:
        ask = _ask_of(name, vocabulary) or "Which result is this? It was not used."
        reader.ask("name", name or loinc, ask)
        return None
    written = f"{value} {unit}".strip() if value is not None else "no value"
    observation = Observation(analyte.key, None, analyte.unit, taken_at, written)
    try:
        _check_sample(analyte, remark, taken_at, now)
        figure, converted = _figure(analyte, value, unit)
    except Doubt as doubt:
        return replace(observation, doubt=f"{name or analyte.key} {written}: {doubt.text}")
    return replace(
        observation, value=figure, converted="; ".join(filter(None, (converted, zone_said)))
    )


def _taken_at(reader: Reader, now: datetime) -> tuple[datetime | None, str]:
    """The time taken, and what was assumed of its zone."""
    reader.problems.zoneless = False
    taken_at = reader.time("taken_at", now)
    said = f"time without a zone read as {now.tzname()}" if reader.problems.zoneless else ""
    return taken_at, said


def _ask_of(name: str, vocabulary: Vocabulary) -> str:
    meaning = vocabulary.analytes.get(name) if name else None
    return str(meaning.data.get("ask", "")) if meaning else ""


def _analyte(name: str, loinc: str, vocabulary: Vocabulary) -> Analyte | None:
    code = vocabulary.loinc.get(loinc)
    meaning = vocabulary.analytes.get(name) if name else None
    table = vocabulary.tables["observations"]["analyte"]
    if code and code["name"] in table:
        key = str(code["name"])
        nitrogen = code.get("measures") == "urea nitrogen"
        return Analyte(key, table[key], NITROGEN if nitrogen else key, False, code)
    if meaning is None or "ask" in meaning.data:
        return None
    return _named(name, meaning)


def _named(name: str, meaning: Meaning) -> Analyte:
    plain = fold(name).replace("_", " ")
    nitrogen = plain in meaning.data.get("nitrogen", ())
    factors_of = NITROGEN if nitrogen else meaning.key
    return Analyte(meaning.key, meaning.data, factors_of, plain in meaning.data.get("flip", ()))


def _check_sample(analyte: Analyte, remark: str, taken_at: datetime | None, now: datetime) -> None:
    if taken_at and taken_at > now + CLOCK_SLACK:
        raise Doubt("its time lies in the future")
    if SPOILT.search(remark):
        raise Doubt(f"the sample is not reliable ({remark})")
    if HAEMOLYSED.search(remark) and analyte.key in HARMED_BY_HAEMOLYSIS:
        raise Doubt("haemolysed sample, repeat it")


def _figure(analyte: Analyte, value: object, unit: str) -> tuple[float, str]:
    """The figure in the project's unit and what was done to get there. Raises Doubt."""
    number, unit = _number_and_unit(value, unit)
    if analyte.flip:
        number = -number
    used = unit or _unit_meant(analyte, number)
    figure = _converted(analyte, number, used)
    low, high = analyte.entry["possible"]
    high = analyte.code.get("up_to", high) if analyte.code else high
    if not low <= figure <= high:
        raise Doubt(
            f"not possible in a living patient; {low:g} to {high:g} {analyte.unit} is expected. "
            "Wrong unit or wrong figure?"
        )
    return figure, _said(analyte, number, used, figure)


def _said(analyte: Analyte, number: float, used: str, figure: float) -> str:
    if figure == number and not analyte.flip:
        return ""
    return f"{number:g} {used} read as {figure:.4g} {analyte.unit}".replace("  ", " ")


def _number_and_unit(value: object, unit: str) -> tuple[float, str]:
    if isinstance(value, str):
        text = fold(value)
        bound = BOUND.fullmatch(text)
        if bound:
            word = BOUND_WORDS.get(bound[1], bound[1])
            raise Doubt(f"reported only as {word} {bound[2]} {bound[3] or unit}".strip())
        match = None if THOUSANDS.search(text) else NUMBER_FIRST.fullmatch(text)
        if not match:
            raise Doubt("not a number")
        unit = unit or (match[2] or "").strip()
        value = match[1].replace(" ", "").replace(",", ".")
    number = read_number(value, {})
    if number is None:
        raise Doubt("no value" if value is None else "not a number")
    return number, unit


def _unit_meant(analyte: Analyte, number: float) -> str:
    """The unit of a figure without one: only when no other unit in use would fit it."""
    if analyte.factors_of == NITROGEN:
        raise Doubt("no unit: mg/dL or mmol/L?")
    low, high = analyte.entry.get("expected", analyte.entry["possible"])
    units = [unit for unit in (analyte.unit, *analyte.entry.get("other_units", ()))
             if _fits_code(analyte, unit)]  # fmt: skip
    fitting = [unit for unit in units if low <= _converted(analyte, number, unit) <= high]
    if len(fitting) != 1 or (fitting[0] != analyte.unit and analyte.code is None):
        raise Doubt(f"no unit: {' or '.join(units)}?")
    return str(fitting[0])


def _converted(analyte: Analyte, number: float, unit: str) -> float:
    try:
        if not _fits_code(analyte, unit):
            assert analyte.code is not None
            raise Doubt(f"the unit {unit} contradicts its code ({analyte.code['long_name']})")
        factor = analyte.code.get("mmol_l_per_mg_dl") if analyte.code else None
        if factor and canonical_unit(unit) == "mg/dL":
            return number * float(factor)
        return to_project_unit(analyte.factors_of, number, unit)
    except UnitError as error:
        raise Doubt(f"the unit does not fit; {error.accepted} is accepted") from error


def _fits_code(analyte: Analyte, unit: str) -> bool:
    """False when the code counts moles and the unit weighs, or the other way round."""
    measured = analyte.code["property"] if analyte.code else ""
    canonical = BY_SPELLING.get(fold(unit).replace(" ", ""), unit)
    if measured == "mass":
        return canonical not in MOLE_UNITS
    return measured != "moles" or canonical not in MASS_UNITS
