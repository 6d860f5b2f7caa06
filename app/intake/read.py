"""A request in people's words, read into a Case."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any, Final, cast, get_args

from app.catalogue.catalogue import Catalogue
from app.intake.additives import dose_of, read_additives
from app.intake.conditions import read_conditions
from app.intake.drugs import read_co_infusion, read_medications
from app.intake.fluids import FluidReading, NameBook, name_book
from app.intake.observations import read_observations
from app.intake.rates import VOLUME, Flow, read_flow
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, Order, Purpose, Question
from app.patient.snapshot import Setting, Snapshot

AGE_UNITS: Final = {
    **dict.fromkeys(("y", "yr", "yrs", "year", "years"), 1.0),
    **dict.fromkeys(("months", "month"), 1 / 12),
    **dict.fromkeys(("weeks", "week", "wk"), 7 / 365.25),
    **dict.fromkeys(("d", "day", "days"), 1 / 365.25),
}
# The oldest person lived 122 years, the heaviest weighed 635 kg (from memory).
AGE: Final = Span(0, 125, "years", AGE_UNITS)
WEIGHT: Final = Span(0.2, 650, "kg", {"kg": 1.0, "kgs": 1.0, "g": 0.001})
HEIGHT: Final = Span(15, 280, "cm", {"cm": 1.0, "m": 100.0})
URINE: Final = Span(0, 5000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0})
BALANCE: Final = Span(-50_000, 50_000, "mL", {"ml": 1.0, "l": 1000.0})
SETTINGS: Final = {
    **{setting.lower(): setting for setting in get_args(Setting)},
    "ward": "adult ward", "itu": "ICU", "intensive care": "ICU", "critical care": "ICU",
    "emergency department": "ED", "a&e": "ED", "emergency": "ED", "theatres": "theatre",
    "operating room": "theatre", "or": "theatre", "paediatrics": "paediatric",
    "pediatric": "paediatric", "pediatrics": "paediatric", "neonatal": "neonate", "nicu": "neonate",
    "picu": "paediatric",
}  # fmt: skip
SEXES: Final = {
    "female": "female",
    "f": "female",
    "woman": "female",
    "male": "male",
    "m": "male",
    "man": "male",
}
SITES: Final = {"peripheral": "peripheral", "central": "central"}


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
    setting = reader.choice("setting", SETTINGS)
    patient = _patient(reader.reader("patient"), vocabulary, at, cast(Setting | None, setting))
    book = name_book(catalogue, vocabulary)
    orders = tuple(
        _order(r, number, patient, book) for number, r in enumerate(reader.readers("orders"))
    )
    others = tuple(read_co_infusion(r, book) for r in reader.readers("co_infusions"))
    reader.ask_unknown()
    problems.stop_if_any()
    return Case(patient, orders, others, tuple(problems.questions))


def _patient(
    reader: Reader, vocabulary: Vocabulary, now: datetime, setting: Setting | None
) -> Snapshot:
    snapshot = Snapshot(
        now=now,
        setting=setting,
        age_years=reader.number("age_years", AGE),
        sex=cast(Any, reader.choice("sex", SEXES)),
        weight_kg=reader.number("weight_kg", WEIGHT),
        height_cm=reader.number("height_cm", HEIGHT),
        conditions=read_conditions(reader.texts("conditions"), vocabulary),
        medications=read_medications(reader.texts("medications"), vocabulary),
        results=read_observations(reader.readers("observations"), vocabulary, now),
        urine_ml_h=reader.number("urine_ml_h", URINE),
        balance_24h_ml=reader.number("balance_24h_ml", BALANCE),
        access=tuple(_lumen(r) for r in reader.readers("access")),
        weight_taken_at=reader.time("weight_taken_at", now),
    )
    reader.ask_unknown()
    return snapshot


def _lumen(reader: Reader) -> Lumen:
    lumen = Lumen(
        reader.label("id") or "",
        cast(Any, reader.choice("site", SITES)),
        reader.text("role") or "",
    )
    reader.ask_unknown()
    return lumen


def _order(reader: Reader, number: int, patient: Snapshot, book: NameBook) -> Order:
    order_id = reader.label("id") or f"order {number + 1}"
    written = reader.text("fluid") or ""
    volume = reader.number("volume_ml", VOLUME)
    reading = book.read(written, volume) if written else FluidReading()
    flow = read_flow(reader, patient.weight_kg, reading.volume_ml)
    additives = (
        *(dose_of(dose, book.vocabulary) for dose in reading.doses),
        *read_additives(reader.readers("additives"), book.vocabulary),
    )
    starts_at = reader.time("starts_at", patient.now)
    purpose_written = reader.text("purpose") or ""
    questions = _fluid_questions(reader, written, reading)
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
        review_at=reader.time("review_at", patient.now),
        lumen=reader.label("lumen"),
        purpose=cast(Purpose, purpose_written) if purpose_written in get_args(Purpose) else None,
        purpose_written=purpose_written,
        is_bolus=purpose_written == "resuscitation",
        mix=_mix(reading, additives, flow),
        questions=questions,
        stated_duration=flow.stated_duration,
    )
    reader.text("rate_text"), reader.text("order_text")
    reader.ask_unknown()
    return order


def _mix(reading: FluidReading, additives: tuple[AdditiveDose, ...], flow: Flow) -> Any:
    return None if reading.fluid is None else mixture(reading.fluid, additives, flow.volume_ml)


def _fluid_questions(reader: Reader, written: str, reading: FluidReading) -> tuple[Question, ...]:
    if not reading.ask:
        return ()
    return (Question(reader.at("fluid"), written, reading.ask, reading.choices),)
