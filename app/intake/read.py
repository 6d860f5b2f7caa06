"""A request in people's words, read into a Case."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import Any, Final, Literal, cast, get_args

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.intake.additives import ask_of_potassium, dose_of, read_additives
from app.intake.conditions import read_conditions
from app.intake.drugs import osmolarity_in, read_co_infusion, read_medications
from app.intake.fluids import FluidReading, NameBook, name_book
from app.intake.observations import read_observations
from app.intake.rates import Flow, complete, cut_rate_words, flow_of_words, read_flow
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary, fold
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.observation import Observation
from app.patient.order import AdditiveDose, CoInfusion, Order, Purpose, Question
from app.patient.snapshot import Setting, Snapshot
from app.patient.weight import weight_doubt

AGE_UNITS: Final = {
    **dict.fromkeys(("y", "yr", "yrs", "year", "years"), 1.0),
    **dict.fromkeys(("months", "month", "mo"), 1 / 12),
    **dict.fromkeys(("weeks", "week", "wk", "wks"), 7 / 365.25),
    **dict.fromkeys(("d", "day", "days"), 1 / 365.25),
}
# The oldest person lived 122 years, the heaviest weighed 635 kg (from memory).
AGE: Final = Span(0, 125, "years", AGE_UNITS)
WEIGHT: Final = Span(0.2, 650, "kg", {"kg": 1.0, "kgs": 1.0, "g": 0.001})
HEIGHT: Final = Span(15, 280, "cm", {"cm": 1.0, "m": 100.0})
URINE: Final = Span(0, 5000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0, "ml/hour": 1.0})
BALANCE: Final = Span(-50_000, 50_000, "mL", {"ml": 1.0, "l": 1000.0})
SETTINGS: Final = {
    **{setting.lower(): setting for setting in get_args(Setting)},
    **dict.fromkeys(("ward", "adult", "medical ward", "surgical ward"), "adult ward"),
    **dict.fromkeys(("itu", "intensive care", "critical care", "hdu"), "ICU"),
    **dict.fromkeys(("emergency department", "emergency", "a&e", "er"), "ED"),
    **dict.fromkeys(("theatres", "operating room", "operating theatre"), "theatre"),
    **dict.fromkeys(
        ("paediatrics", "pediatric", "pediatrics", "children", "picu", "paediatric ward"),
        "paediatric",
    ),
    **dict.fromkeys(("neonatal", "nicu", "newborn"), "neonate"),
}
SEXES: Final = {
    **dict.fromkeys(("female", "f", "woman", "girl"), "female"),
    **dict.fromkeys(("male", "m", "man", "boy"), "male"),
}
SITES: Final = {
    **dict.fromkeys(("peripheral", "peripheral cannula", "piv", "cannula"), "peripheral"),
    **dict.fromkeys(("central", "cvc", "picc", "central line"), "central"),
}
PURPOSES: Final[tuple[tuple[Purpose, re.Pattern[str]], ...]] = (
    ("carrier", re.compile(r"\bcarrier|\bkvo\b|\bt?kvo\b|\btko\b|keep (?:the )?vein open|\bpatency"
                           r"|\bflush|\bdiluent|\bvehicle|\bkeep open\b")),
    ("resuscitation", re.compile(r"\bresus|\bbolus|\bfluid challenge|\bshock"
                                 r"|\bhypotens|\bvolume expan")),
    ("replacement", re.compile(r"\breplac|\bdeficit|\bloss(?:es)?\b|\brehydrat|\bdehydrat")),
    ("redistribution", re.compile(r"\bredistribut")),
    ("correction", re.compile(r"\bcorrect|\balkalin|\btreat(?:ment)?\b")),
    ("maintenance", re.compile(r"\bmaint|\broutine\b|\bnbm\b|\bnpo\b|\bnil by mouth\b")),
)  # fmt: skip
# A resuscitation fluid given within this time, or at this rate, is a bolus (common practice).
BOLUS_WITHIN_H: Final = 2.0
BOLUS_FROM_ML_H: Final = 500.0
SECONDS_PER_HOUR: Final = 3600.0
# Put into a bag without being an infusion of its own.
NO_INFUSION: Final = frozenset({"multivitamin", "thiamine"})


def read_case(
    request: Mapping[str, Any], *, catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> Case:
    """The case a request describes.

    now: used only when the request has none. What is doubtful becomes a question, a doubt on a
    result or a word not read; what has the wrong shape raises InputError, or InputErrors.
    """
    problems = Problems()
    reader = Reader(request, "", problems)
    at = reader.time("now", now) or now
    setting = cast(Setting | None, reader.choice("setting", SETTINGS))
    patient = _patient(reader.reader("patient"), vocabulary, at, setting)
    book = name_book(catalogue, vocabulary)
    orders = tuple(
        _order(r, number, patient, book)
        for number, r in enumerate(reader.readers("orders"), start=1)
    )
    named = tuple(read_co_infusion(r, book) for r in reader.readers("co_infusions"))
    reader.ask_unknown()
    problems.stop_if_any()
    carried = tuple(drug for order in orders for drug in _drugs_carried(order, vocabulary))
    return Case(patient, orders, (*named, *carried), tuple(problems.questions))


def _patient(
    reader: Reader, vocabulary: Vocabulary, now: datetime, setting: Setting | None
) -> Snapshot:
    results = read_observations(reader.readers("observations"), vocabulary, now)
    weighed = _newest(results, "weight")
    height = reader.number("height_cm", HEIGHT)
    snapshot = Snapshot(
        now=now,
        setting=setting,
        age_years=reader.number("age_years", AGE),
        sex=cast(Literal["female", "male"] | None, reader.choice("sex", SEXES)),
        weight_kg=reader.number("weight_kg", WEIGHT),
        height_cm=_newest(results, "height").value if height is None else height,
        conditions=read_conditions(reader.texts("conditions"), vocabulary),
        medications=read_medications(reader.texts("medications"), vocabulary),
        results=results,
        urine_ml_h=reader.number("urine_ml_h", URINE),
        balance_24h_ml=reader.number("balance_24h_ml", BALANCE),
        access=tuple(_lumen(r) for r in reader.readers("access")),
        weight_taken_at=reader.time("weight_taken_at", now),
    )
    reader.ask_unknown()
    if snapshot.weight_kg is None and weighed.value is not None:
        snapshot = replace(snapshot, weight_kg=weighed.value, weight_taken_at=weighed.taken_at)
    return _with_believable_weight(snapshot, reader)


def _with_believable_weight(snapshot: Snapshot, reader: Reader) -> Snapshot:
    """A weight that hardly fits the age is asked about, and not used."""
    doubt = weight_doubt(snapshot.age_years, snapshot.weight_kg)
    if not doubt:
        return snapshot
    reader.ask("weight_kg", f"{snapshot.weight_kg:g} kg", doubt)
    return replace(snapshot, weight_kg=None)


def _newest(results: Mapping[str, tuple[Observation, ...]], name: str) -> Observation:
    return next(iter(results.get(name, ())), Observation(name, None, "", None))


def _lumen(reader: Reader) -> Lumen:
    lumen = Lumen(
        reader.label("id") or "",
        cast(Literal["peripheral", "central"] | None, reader.choice("site", SITES)),
        reader.text("role") or "",
    )
    reader.ask_unknown()
    return lumen


def _order(reader: Reader, number: int, patient: Snapshot, book: NameBook) -> Order:
    asked_before = len(reader.problems.questions)
    order_id = reader.label("id") or f"o{number}"
    written = reader.text("fluid") or ""
    name, rate_words = cut_rate_words(written)
    flow = read_flow(reader, patient.weight_kg, flow_of_words(rate_words, patient.weight_kg))
    reading = book.read(name, flow.volume_ml) if name else FluidReading()
    flow = _with_named_volume(flow, reading)
    additives = _additives(reader, reading, flow, book)
    purpose, purpose_written = _purpose(reader, rate_words)
    starts_at = reader.time("starts_at", patient.now)
    order = Order(
        id=order_id,
        written=written,
        fluid=reading.fluid,
        candidates=reading.candidates,
        additives=additives,
        volume_ml=flow.volume_ml,
        rate_ml_h=flow.rate_ml_h,
        duration_h=flow.duration_h,
        starts_at=starts_at,
        running_h=_running_h(starts_at, patient.now),
        review_at=reader.time("review_at", patient.now),
        lumen=reader.label("lumen"),
        purpose=purpose,
        purpose_written=purpose_written,
        is_bolus=flow.is_bolus or _given_fast(purpose, flow),
        mix=_mix(reading, additives, flow.volume_ml),
        stated_duration=flow.stated_duration,
    )
    _ask_of_fluid(reader, written, reading)
    ask_of_potassium(reader, additives, order.mix)
    reader.ask_unknown()
    return replace(order, questions=_taken(reader.problems.questions, asked_before))


def _taken(questions: list[Question], since: int) -> tuple[Question, ...]:
    """The questions asked since, which belong to the order and not to the patient."""
    taken = tuple(dict.fromkeys(questions[since:]))
    del questions[since:]
    return taken


def _with_named_volume(flow: Flow, reading: FluidReading) -> Flow:
    if flow.volume_ml is not None or reading.volume_ml is None:
        return flow
    with_volume = replace(flow, volume_ml=reading.volume_ml)
    return complete(with_volume)


def _additives(
    reader: Reader, reading: FluidReading, flow: Flow, book: NameBook
) -> tuple[AdditiveDose, ...]:
    listed = read_additives(reader.readers("additives"), book.vocabulary)
    named = tuple(dose_of(dose, book.vocabulary) for dose in reading.doses)
    twice = [dose for dose in named if any(_same(dose, other) for other in listed)]
    for dose in twice:
        reader.ask("fluid", reader.raw("fluid"), f"Is {dose.as_written} in the name the same as "
                   "the additive listed? It is counted once.")  # fmt: skip
    additives = (*(dose for dose in named if dose not in twice), *listed)
    for dose in additives:
        if dose.unread:
            reader.ask("additives", dose.as_written, dose.unread)
        elif flow.volume_ml is None and not dose.per_litre and dose.added != Composition():
            reader.ask("volume_ml", dose.as_written, "In what volume, or is it in each litre?")
    return additives


def _same(first: AdditiveDose, second: AdditiveDose) -> bool:
    return first.substance == second.substance and first.added == second.added


def _purpose(reader: Reader, rate_words: str) -> tuple[Purpose | None, str]:
    """The reason for the fluid, from its own field or else from the order's words."""
    written = reader.text("purpose") or ""
    if written:
        purpose = purpose_in(written)
        if purpose is None:
            choices = ", ".join(get_args(Purpose))
            reader.ask("purpose", written, f"Which reason is this: {choices}?")
        return purpose, written
    texts = (reader.text("order_text"), reader.text("rate_text"), rate_words)
    for text in filter(None, texts):
        purpose = purpose_in(text)
        if purpose:
            return purpose, text
    return None, ""


@lru_cache(maxsize=4096)
def purpose_in(text: str) -> Purpose | None:
    """The reason for a fluid that words give; None when they give none."""
    plain = fold(text)
    return next((purpose for purpose, pattern in PURPOSES if pattern.search(plain)), None)


def _given_fast(purpose: Purpose | None, flow: Flow) -> bool:
    if purpose != "resuscitation":
        return False
    if flow.rate_ml_h is None:
        return True
    short = flow.stated_duration and (flow.duration_h or 0) <= BOLUS_WITHIN_H
    return short or flow.rate_ml_h >= BOLUS_FROM_ML_H


def _running_h(starts_at: datetime | None, now: datetime) -> float | None:
    if starts_at is None or starts_at > now:
        return None
    return (now - starts_at).total_seconds() / SECONDS_PER_HOUR


def _mix(
    reading: FluidReading, additives: tuple[AdditiveDose, ...], volume_ml: float | None
) -> Composition | None:
    return None if reading.fluid is None else mixture(reading.fluid, additives, volume_ml)


def _ask_of_fluid(reader: Reader, written: str, reading: FluidReading) -> None:
    if not written:
        reader.ask("fluid", "nothing", "Which fluid is ordered?")
    elif reading.ask:
        question = Question(reader.at("fluid"), written, reading.ask, reading.choices)
        reader.problems.questions.append(question)


def _drugs_carried(order: Order, vocabulary: Vocabulary) -> Iterator[CoInfusion]:
    """A drug put into the bag runs with it: an infusion in the order's fluid, by its line."""
    drugs = vocabulary.tables["drugs"]["drug"]
    for dose in order.additives:
        entry = drugs.get(dose.substance)
        if entry is None or "salt" in entry or dose.unread or dose.substance in NO_INFUSION:
            continue
        yield CoInfusion(
            name=order.written if "kind" in entry else dose.as_written,
            kind=entry.get("kind", "drug"),
            key=dose.substance,
            contents=frozenset((dose.substance, *entry.get("also", ()))),
            lumen=order.lumen,
            diluent=order.fluid,
            carried_by=order.id,
            osmolarity_mosm_l=osmolarity_in(order.written),
        )
