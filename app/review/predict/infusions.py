"""One infusion of a request: the one fluid that its words mean, with what is added, and when."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import AMOUNT_FIELDS, Composition
from app.intake.additives import NO_SPREAD, Spread, read_additives
from app.intake.fluids import NameBook
from app.intake.orders.order import read_order
from app.intake.request import Reader
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, Order
from app.patient.snapshot import Snapshot
from app.physiology.course.loads import Load, chloride_of
from app.review.predict.compositions import as_fluid, doubts_of, read_composition
from app.review.predict.insulin import INSULIN, units_in
from app.review.predict.notes import Note, notes_of_questions, question_text
from app.review.predict.pace import DURATION, MINUTES_PER_HOUR, START, VOLUME, read_pace

# A push takes a minute (common practice, no source).
SHORTEST_MIN: Final = 1.0
ONE_FLUID: Final = "one fluid of the catalogue by name, or `composition`"
SAME_ML: Final = 1.0
# Fluids of which a litre differs by no more, mmol or g, do the same to anybody.
ALIKE_WITHIN: Final = 1.0


@dataclass(frozen=True, slots=True)
class Infusion:
    """What runs: the fluid (its id empty when it was composed), what a litre holds, and when.

    chloride_worked_out: the chloride that balances a label which gives none; None otherwise.
    """

    fluid: Fluid
    load: Load
    chloride_worked_out: float | None
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bag:
    """The contents of an infusion as read: fluid, mix per litre, volume, insulin in all of it."""

    fluid: Fluid
    mix: Composition
    volume_ml: float
    duration_min: float | None
    insulin_units: float
    notes: tuple[Note, ...]


def read_infusion(reader: Reader, patient: Snapshot, book: NameBook) -> Infusion | None:
    """The infusion; None, with the field refused, where its words leave a doubt."""
    starts_min, pace = reader.number("starts_min", START), read_pace(reader)
    errors_before = len(reader.problems.errors)
    composed = reader.raw("composition") is not None
    read = partial(_composed if composed else _named, reader, patient, book)
    unsaid = reader.raw("volume_ml") is None
    bag = read(pace.volume_ml) if unsaid or pace.volume_ml else None
    reader.ask_unknown()
    if bag is None or len(reader.problems.errors) > errors_before:
        return None
    duration_min = pace.minutes_for(bag.volume_ml)
    if duration_min is None:
        duration_min = bag.duration_min
    if duration_min is None:
        if reader.raw("duration_min") is None and reader.raw("duration_h") is None:
            reader.refuse("duration_min", None, f"{DURATION.accepted}, or a rate_ml_h")
        return None
    load = Load(
        bag.mix, bag.volume_ml / ML_PER_L, starts_min or 0.0, max(duration_min, SHORTEST_MIN),
        bag.insulin_units,
    )  # fmt: skip
    worked_out = chloride_of(bag.mix) if bag.mix.chloride_mmol_l is None else None
    notes = (*bag.notes, *_notes_of_pace(reader, duration_min, bag.duration_min))
    return Infusion(bag.fluid, load, worked_out, notes)


def _notes_of_pace(reader: Reader, duration_min: float, said_min: float | None) -> Iterator[Note]:
    shown = f"{duration_min:g} min"
    if said_min is not None and abs(said_min - duration_min) > SHORTEST_MIN:
        text = f"The fluid's words come to {said_min:g} min; {shown} is reckoned with."
        yield Note(reader.at("duration_min"), shown, text)
    if duration_min < SHORTEST_MIN:
        text = f"Reckoned as given over {SHORTEST_MIN:g} min."
        yield Note(reader.at("duration_min"), shown, text)


def _composed(
    reader: Reader, patient: Snapshot, book: NameBook, volume_ml: float | None
) -> _Bag | None:
    composition = read_composition(reader.reader("composition"))
    fluid = as_fluid(composition)
    spread = NO_SPREAD if patient.weight_kg is None else Spread(None, patient.weight_kg)
    additives = read_additives(reader.readers("additives"), book.vocabulary, spread)
    name = reader.raw("fluid")
    if volume_ml is None:
        reader.refuse("volume_ml", None, VOLUME.accepted)
        return None
    mix = _mix(reader, fluid, additives, volume_ml)
    if mix is None:
        return None
    doubts = [Note(reader.at("composition"), "", text) for text in doubts_of(composition)]
    if name is not None:
        text = "The composition given is reckoned with; the name is not looked up."
        doubts.append(Note(reader.at("fluid"), str(name), text))
    units = _insulin_units(additives, volume_ml, patient)
    notes = (*doubts, *_notes_of_drugs(reader, additives, patient))
    return _Bag(fluid, mix, volume_ml, None, units, notes)


def _named(
    reader: Reader, patient: Snapshot, book: NameBook, volume_ml: float | None
) -> _Bag | None:
    written = reader.text("fluid")
    told = {"fluid": written, "additives": reader.raw("additives"), "volume_ml": volume_ml}
    if written is None:
        if reader.raw("fluid") is None or reader.raw("fluid") == "":
            reader.refuse("fluid", None, ONE_FLUID)
        return None
    orders = read_order(Reader(told, reader.path, reader.problems), 1, patient, book)
    order, fluid = orders[0], orders[0].fluid or _of_alike(orders[0].candidates)
    if fluid is None or len(orders) > 1 or order.not_given:
        reader.refuse("fluid", written, _why_not_one(orders))
        return None
    if fluid.never_hung and fluid.composition.potassium_mmol_l:
        reader.refuse("fluid", written, f"a fluid that may be hung. {fluid.never_hung}")
        return None
    whole_ml = volume_ml or order.whole_ml
    if whole_ml is None:
        reader.refuse("volume_ml", None, VOLUME.accepted)
        return None
    mix = _mix(reader, fluid, order.additives, order.volume_ml)
    if mix is None:
        return None
    hours = order.duration_h
    minutes = None if hours is None else hours * MINUTES_PER_HOUR
    each_ml = order.volume_ml or whole_ml
    units = _insulin_units(order.additives, each_ml, patient) * whole_ml / each_ml
    drugs = _notes_of_drugs(reader, order.additives, patient)
    notes = (*_notes_of_order(reader, order, whole_ml), *drugs)
    return _Bag(fluid, mix, whole_ml, minutes, units, notes)


def _mix(
    reader: Reader, fluid: Fluid, additives: tuple[AdditiveDose, ...], volume_ml: float | None
) -> Composition | None:
    """What a litre holds; None, with the additive refused, where one is not read."""
    for dose in additives:
        if dose.unread:
            reader.refuse("additives", dose.as_written, f"a known amount. {dose.unread}")
    mix = mixture(fluid, additives, volume_ml)
    if mix is None and not any(dose.unread for dose in additives):
        reader.refuse("volume_ml", None, VOLUME.accepted)
    return mix


def _of_alike(candidates: tuple[Fluid, ...]) -> Fluid | None:
    """The first of fluids of which a litre holds so nearly the same that either will do."""
    if not candidates:
        return None
    held = [fluid.composition.amounts() for fluid in candidates]
    apart = (
        abs((one[name] or 0.0) - (held[0][name] or 0.0)) for one in held for name in AMOUNT_FIELDS
    )
    return candidates[0] if max(apart) <= ALIKE_WITHIN else None


def _why_not_one(orders: tuple[Order, ...]) -> str:
    """What is accepted instead of words that name no one fluid at one pace."""
    if len(orders) > 1:
        return "one fluid at one pace: send each step as an infusion of its own"
    if orders[0].not_given:
        return f"a fluid that runs: “{orders[0].not_given}” says that it does not"
    asked = " ".join(question_text(q) for q in orders[0].questions if not q.minor)
    return f"{ONE_FLUID}. {asked}".strip()


def _notes_of_order(reader: Reader, order: Order, volume_ml: float) -> Iterator[Note]:
    yield from notes_of_questions(order.questions)
    if order.fluid is None:
        text = f"They hold nearly the same, and are reckoned as {order.candidates[0].name}."
        yield Note(reader.at("fluid"), order.written, text)
    elif order.fluid.never_hung:
        yield Note(reader.at("fluid"), order.written, order.fluid.never_hung)
    said_ml = order.whole_ml
    if said_ml is not None and abs(said_ml - volume_ml) > SAME_ML:
        text = f"The words come to {said_ml:g} mL; {volume_ml:g} mL is reckoned with."
        yield Note(reader.at("volume_ml"), order.written, text)


def _insulin_units(
    additives: tuple[AdditiveDose, ...], volume_ml: float, patient: Snapshot
) -> float:
    """Insulin in so many mL, units; what is not written is noted elsewhere."""
    doses = (dose for dose in additives if dose.substance == INSULIN)
    return sum(units_in(dose, volume_ml, patient.weight_kg) or 0.0 for dose in doses)


def _notes_of_drugs(
    reader: Reader, additives: tuple[AdditiveDose, ...], patient: Snapshot
) -> Iterator[Note]:
    for dose in additives:
        if dose.added != Composition():
            continue
        if dose.substance != INSULIN:
            text = "What this drug does is not in this prediction."
        elif units_in(dose, ML_PER_L, patient.weight_kg) is None:
            text = "How many units of soluble insulin this is, is not written: it is not reckoned."
        else:
            continue
        yield Note(reader.at("additives"), dose.as_written, text)
