"""A request in people's words, read into a Case."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from types import MappingProxyType
from typing import Any, Final, Literal, cast

from app.catalogue.catalogue import Catalogue
from app.intake.bedside.signed import read_signed
from app.intake.bedside.told import told_among_conditions
from app.intake.bedside.urine import Urine, with_urine
from app.intake.bedside.wards import SETTINGS
from app.intake.conditions import read_conditions
from app.intake.drugs import read_beside, with_taken_elsewhere
from app.intake.fluids import name_book
from app.intake.medicines.drug_list import read_drug_list
from app.intake.observations import read_observations
from app.intake.orders.order import drugs_carried, read_order
from app.intake.orders.sequence import in_turn
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary, fold
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.observation import Observation
from app.patient.order import Order
from app.patient.snapshot import ADULT_FROM_YEARS, Setting, Snapshot, Words
from app.patient.weight import believable_kg, weight_doubt

AGE_UNITS: Final = {
    **dict.fromkeys(("y", "yr", "yrs", "year", "years"), 1.0),
    **dict.fromkeys(("months", "month", "mo"), 1 / 12),
    **dict.fromkeys(("weeks", "week", "wk", "wks"), 7 / 365.25),
    **dict.fromkeys(("d", "day", "days"), 1 / 365.25),
}
G_PER_KG: Final = 1000.0
ML_PER_KG: Final = 1000.0
METRES: Final = (0.3, 2.5)
# The oldest person lived 122 years, the heaviest weighed 635 kg (from memory).
AGE: Final = Span(0, 125, "years", AGE_UNITS)
WEIGHT: Final = Span(0.2, 650, "kg", {"kg": 1.0, "kgs": 1.0, "g": 0.001})
HEIGHT: Final = Span(15, 280, "cm", {"cm": 1.0, "m": 100.0})
# Twice what is passed at most in diabetes insipidus (common practice, no source).
URINE: Final = Span(0, 2000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0, "ml/hour": 1.0})
BALANCE: Final = Span(-50_000, 50_000, "mL", {"ml": 1.0, "l": 1000.0})
# A child's intensive care is a setting of its own in words only: the ward and its monitor.
CHILD_INTENSIVE_CARE: Final = ("paediatric_intensive_care", "neonatal_intensive_care")
SEXES: Final = {
    **dict.fromkeys(("female", "f", "woman", "women", "girl", "girls", "females"), "female"),
    **dict.fromkeys(("male", "m", "man", "men", "boy", "boys", "males"), "male"),
}
# Said, and yet not known; "unknown" and "other" are codes of FHIR.
NO_SEX: Final = frozenset(
    {"unknown", "not known", "other", "mixed", "both", "any", "either", "unspecified", "u"}
)
SITES: Final = {
    **dict.fromkeys(("peripheral", "peripheral cannula", "piv", "cannula"), "peripheral"),
    **dict.fromkeys(("central", "cvc", "picc", "central line"), "central"),
}


@dataclass(frozen=True, slots=True)
class PatientRead:
    """What a request tells of its patient, whatever the fluids are. problems: met so far."""

    request: Mapping[str, Any]
    patient: Snapshot
    vocabulary: Vocabulary
    problems: Problems


def read_case(
    request: Mapping[str, Any], *, catalogue: Catalogue, vocabulary: Vocabulary, now: datetime
) -> Case:
    """The case a request describes.

    now: used only when the request has none. What is doubtful becomes a question, a doubt on a
    result or a word not read; what has the wrong shape raises InputError, or InputErrors.
    """
    return with_orders(read_patient(request, vocabulary=vocabulary, now=now), catalogue)


def read_patient(
    request: Mapping[str, Any], *, vocabulary: Vocabulary, now: datetime
) -> PatientRead:
    """The patient alone: with_orders() makes the case, with whatever catalogue. Raises nothing:
    what has the wrong shape is told by with_orders().
    """
    problems = Problems()
    reader = Reader(request, "", problems)
    at = reader.time("now", now) or now
    setting = cast(Setting | None, reader.choice("setting", SETTINGS))
    ward = _ward_words(request, setting, vocabulary)
    patient = _patient(reader.reader("patient"), vocabulary, at, ward, setting)
    return PatientRead(reader.data, patient, vocabulary, problems)


def with_orders(read: PatientRead, catalogue: Catalogue) -> Case:
    """The case of a patient that has been read, with its orders as fluids of this catalogue.

    Raises InputError, or InputErrors, for all of the request that has the wrong shape.
    """
    vocabulary, patient, problems = read.vocabulary, read.patient, read.problems.copied()
    reader = Reader(read.request, "", problems, seen=("now", "setting", "patient"))
    book = name_book(catalogue, vocabulary)
    written = tuple(
        order
        for number, r in enumerate(reader.readers("orders"), start=1)
        for order in read_order(r, number, patient, book)
    )
    orders = in_turn(tuple(order for order in written if not order.not_given), patient.now)
    stopped = tuple(order for order in written if order.not_given)
    beside = read_beside(reader.readers("co_infusions"), orders, patient.access, book, problems)
    orders, notes = beside.orders, read_signed(reader.readers("local_notes"), patient.now)
    reader.ask_unknown()
    problems.stop_if_any()
    carried = tuple(drug for order in orders for drug in drugs_carried(order, vocabulary))
    patient = _with_reasons(patient, orders, vocabulary)
    patient = with_taken_elsewhere(patient, beside.set_aside, vocabulary)
    return Case(
        patient, orders, (*beside.running, *carried), tuple(problems.questions),
        set_aside=beside.set_aside, not_given=stopped, notes=notes,
    )  # fmt: skip


def _patient(
    reader: Reader,
    vocabulary: Vocabulary,
    now: datetime,
    ward: tuple[str, ...],
    setting: Setting | None,
) -> Snapshot:
    listed = reader.texts("conditions")
    sent = read_observations(reader.readers("observations"), vocabulary, now)
    told = told_among_conditions(listed, vocabulary)
    results = told.with_results(sent)
    weighed = _newest(results, "weight")
    age_years = reader.believed("age_years", AGE)
    weight_kg = reader.believed(
        "weight_kg", WEIGHT, lambda kg: _meant_grams(kg, age_years, setting)
    )
    height = reader.believed("height_cm", HEIGHT, _meant_metres)
    conditions = read_conditions((*listed, *ward), vocabulary, now.year)
    snapshot = Snapshot(
        now=now,
        setting=setting or _setting_of(conditions),
        age_years=age_years,
        sex=_sex(reader),
        weight_kg=weight_kg,
        height_cm=_newest(results, "height").value if height is None else height,
        conditions=conditions,
        medications=read_drug_list(reader, vocabulary),
        results=results,
        urine_ml_h=reader.believed("urine_ml_h", URINE, _meant_for_the_day),
        balance_24h_ml=reader.believed("balance_24h_ml", _balance_of(weight_kg)),
        access=tuple(_lumen(r) for r in reader.readers("access")),
        weight_taken_at=reader.time("weight_taken_at", now),
    )
    reader.ask_unknown()
    if snapshot.weight_kg is None and weighed.value is not None:
        snapshot = replace(snapshot, weight_kg=weighed.value, weight_taken_at=weighed.taken_at)
    snapshot = _with_believable_weight(snapshot, reader)
    return _with_urine_told(snapshot, told.urine)


def _sex(reader: Reader) -> Literal["female", "male"] | None:
    written = reader.raw("sex")
    if isinstance(written, str) and fold(written) in NO_SEX:
        return None
    return cast(Literal["female", "male"] | None, reader.choice("sex", SEXES))


def _with_urine_told(snapshot: Snapshot, urine: Urine | None) -> Snapshot:
    """The urine that was measured, or sent as a result, or else told among the conditions."""
    measured = snapshot.urine_ml_h
    if measured is None:
        measured = _newest(snapshot.results, "urine_output").value
    if measured is not None or urine is None:
        return replace(snapshot, urine_ml_h=measured)
    weight_kg = snapshot.weight_kg
    adult = (snapshot.age_years or 0.0) >= ADULT_FROM_YEARS
    return replace(
        snapshot,
        urine_ml_h=urine.in_patient_ml_h(weight_kg),
        conditions=with_urine(snapshot.conditions, urine, weight_kg, adult=adult),
    )


def _with_believable_weight(snapshot: Snapshot, reader: Reader) -> Snapshot:
    """A weight that hardly fits the age is asked about, and not used."""
    age_years = _age_or_setting(snapshot.age_years, snapshot.setting)
    doubt = weight_doubt(age_years, snapshot.weight_kg)
    if not doubt:
        return snapshot
    reader.ask("weight_kg", f"{snapshot.weight_kg:g} kg", doubt)
    return replace(snapshot, weight_kg=None)


def _ward_words(
    request: Mapping[str, Any], setting: Setting | None, vocabulary: Vocabulary
) -> tuple[str, ...]:
    """The setting's words where they say more than the setting: a child's intensive care."""
    words = (str(request["setting"]),) if setting else ()
    said = read_conditions(words, vocabulary)
    return words if said.any_of(*CHILD_INTENSIVE_CARE) else ()


def _age_or_setting(age_years: float | None, setting: Setting | None) -> float | None:
    """The age; among newborns one may be taken from the place alone."""
    return 0.0 if age_years is None and setting == "neonate" else age_years


def _setting_of(conditions: Words) -> Setting | None:
    """A ward that the problem list names."""
    wards: tuple[tuple[str, Setting], ...] = (
        ("neonatal_intensive_care", "neonate"), ("paediatric_intensive_care", "paediatric"),
        ("intensive_care", "ICU"),
    )  # fmt: skip
    return next((setting for key, setting in wards if key in conditions), None)


def _meant_grams(weight_kg: float, age_years: float | None, setting: Setting | None) -> str:
    """A question when the figure would be a likely weight in grams."""
    age = _age_or_setting(age_years, setting)
    low, high = believable_kg(0.0 if age is None else age)
    if low <= weight_kg / G_PER_KG <= high:
        return f"{weight_kg:,g} g?"
    return ""


def _meant_metres(height_cm: float) -> str:
    return f"{height_cm:g} m?" if METRES[0] <= height_cm <= METRES[1] else ""


def _meant_for_the_day(urine_ml_h: float) -> str:
    return f"{urine_ml_h:g} mL in 24 h?"


def _balance_of(weight_kg: float | None) -> Span:
    """Nobody gains or loses more than the own weight in a day."""
    most = BALANCE.high if weight_kg is None else min(BALANCE.high, weight_kg * ML_PER_KG)
    return replace(BALANCE, low=-most, high=most)


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


def _with_reasons(patient: Snapshot, orders: Iterable[Order], vocabulary: Vocabulary) -> Snapshot:
    """A condition given as the reason for an order is a condition of the patient."""
    listed = vocabulary.tables["conditions"]["condition"]
    reasons = {key: order for order in orders for key in order.reasons if key in listed}
    new = {key: order.why_written for key, order in reasons.items()
           if key not in patient.conditions}  # fmt: skip
    if not new:
        return patient
    words = patient.conditions
    found = words.found | new.keys()
    detail = MappingProxyType({**words.detail, **new})
    known = replace(words, found=found, denied=words.denied - found, detail=detail)
    return replace(patient, conditions=known)
