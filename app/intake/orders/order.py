"""One order in people's words, read into an Order."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import Final

from app.chemistry.composition import Composition
from app.intake.additives import Spread, ask_of_potassium, dose_of, read_additives
from app.intake.fluids import NO_FLUID, FluidReading, NameBook
from app.intake.medicines.nutrition import FREE_OF, free_of, osmolarity_in
from app.intake.orders.contents import stated_contents
from app.intake.orders.flow import complete, read_flow
from app.intake.orders.reasons import cut_reason, read_why
from app.intake.orders.schedule import read_schedule
from app.intake.rates import Flow, cut_rate_words, flow_of_words
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary
from app.intake.wording.line import (
    added_behind,
    depends,
    doubtful_in_line,
    new_in_line,
    with_line,
    without_doses,
)  # fmt: skip
from app.intake.wording.made_up import Doses
from app.intake.wording.unmeant import by_tube, meant
from app.patient.mixture import mixture
from app.patient.order import HOURS_PER_DAY, AdditiveDose, CoInfusion, Order, Purpose, Question
from app.patient.schedule import Schedule
from app.patient.snapshot import Snapshot

# A resuscitation fluid given within this time, or at this rate, is a bolus (common practice).
BOLUS_WITHIN_H: Final = 2.0
BOLUS_FROM_ML_H: Final = 500.0
SECONDS_PER_HOUR: Final = 3600.0
ReadName = Callable[[str], FluidReading]
NOT_IN_A_VEIN: Final = FluidReading(
    ask="By mouth or by tube is no infusion: is this to run into a vein?"
)
# Put into a bag without being an infusion of its own.
NO_INFUSION: Final = "vitamin"


def read_order(reader: Reader, number: int, patient: Snapshot, book: NameBook) -> Order:
    """One order; what is doubtful in it becomes questions that belong to it."""
    asked_before = len(reader.problems.questions)
    order_id = reader.label("id") or f"o{number}"
    # An order that came as one line of text names its fluid there.
    written = reader.text("fluid") or reader.text("order_text") or ""
    name, reason_words, rate_words = _parted(written, book.vocabulary)
    bag = _bag_alone(reader, book.vocabulary)
    flow = read_flow(bag, patient.weight_kg, flow_of_words(rate_words, patient.weight_kg))
    stated_ml = _stated_ml(bag, flow, rate_words, patient.weight_kg)
    read = partial(book.read, volume_ml=stated_ml, weight_kg=patient.weight_kg)
    reading, line = _in_the_bag(reader, written, name, book.vocabulary, read)
    flow = _with_named_volume(flow, reading)
    spread = Spread(flow.rate_ml_h, patient.weight_kg)
    additives = _additives(reader, (reading, line), flow, spread, book)
    why = read_why(reader, f"{reason_words} {rate_words}".strip(), book.vocabulary)
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
        purpose=why.purpose,
        purpose_written=why.written,
        is_bolus=flow.is_bolus or _given_fast(why.purpose, flow),
        mix=_mix(reading, additives, flow.volume_ml),
        stated_duration=flow.stated_duration,
        text=reader.text("order_text") or "",
        reasons=why.reasons,
    )
    _ask_of_fluid(reader, written, reading)
    ask_of_potassium(reader, additives, order.mix)
    reader.ask_unknown()
    return replace(order, questions=_taken(reader.problems.questions, asked_before))


def _parted(text: str, vocabulary: Vocabulary) -> tuple[str, str, str]:
    """An order's words parted: what is in the bag, the reason, and how it runs."""
    name, rate_words = cut_rate_words(meant(text))
    name = FREE_OF.sub(" ", f"{name} {added_behind(rate_words)}".strip())
    name, reason_words = cut_reason(name, vocabulary)
    return name.strip(), reason_words, without_doses(rate_words, vocabulary)


def _bag_alone(reader: Reader, vocabulary: Vocabulary) -> Reader:
    """The order without the mL of what is added, which are none of the bag's."""
    texts = {name: reader.raw(name) for name in ("order_text", "rate_text")}
    said = {k: without_doses(t, vocabulary) for k, t in texts.items() if isinstance(t, str)}
    return reader.reworded(said) if any(said[k] != texts[k] for k in said) else reader


def _stated_ml(
    reader: Reader, flow: Flow, rate_words: str, weight_kg: float | None
) -> float | None:
    """The volume somebody wrote, and not the one that rate and time come to."""
    if flow.volume_ml is None or reader.raw("volume_ml") is not None:
        return flow.volume_ml
    texts = (reader.raw("order_text"), reader.raw("rate_text"), rate_words)
    said = (flow_of_words(t, weight_kg).volume_ml for t in texts if isinstance(t, str))
    return flow.volume_ml if any(said) else None


def _in_the_bag(
    reader: Reader, written: str, name: str, vocabulary: Vocabulary, read: ReadName
) -> tuple[FluidReading, FluidReading]:
    """What the name means in the light of the line of text beside it, and what the line means."""
    line = _line(reader, vocabulary, read)
    if by_tube(written):
        return NOT_IN_A_VEIN, line
    return with_line(_named(name or written, read), line), line


def _named(name: str, read: ReadName) -> FluidReading:
    return read(name) if name else FluidReading()


def _line(reader: Reader, vocabulary: Vocabulary, read: ReadName) -> FluidReading:
    """What the line of text names, where the fluid has a field of its own."""
    text = reader.raw("order_text") if reader.raw("fluid") else None
    if not isinstance(text, str) or not text:
        return FluidReading()
    return _named(_parted(text, vocabulary)[0], read)


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
    reader: Reader, readings: tuple[FluidReading, FluidReading], flow: Flow, spread: Spread,
    book: NameBook,
) -> tuple[AdditiveDose, ...]:  # fmt: skip
    """What is put into the bag: by the name, by the list, and by the line beside them."""
    reading, line = readings
    listed = read_additives(reader.readers("additives"), book.vocabulary, spread)
    named = _doses(reading.doses, spread, book)
    twice = [dose for dose in named if any(_same(dose, other) for other in listed)]
    for dose in twice:
        reader.ask("fluid", reader.raw("fluid"), f"Is {dose.as_written} in the name the same as "
                   "the additive listed? It is counted once.")  # fmt: skip
    additives = (*(dose for dose in named if dose not in twice), *listed)
    known = (*additives, *_doses(reading.added, spread, book))
    told = _doses((*line.doses, *line.added), spread, book)
    if line.is_told:
        additives = (*additives, *new_in_line(told, known, flow.volume_ml))
    elif reading.ask != NO_FLUID:
        _ask_of_line(reader, told, known)
    for dose in additives:
        if dose.unread:
            reader.ask("additives", dose.as_written, dose.unread)
        elif flow.volume_ml is None and not dose.per_litre and dose.added != Composition():
            reader.ask("volume_ml", dose.as_written, "In what volume, or is it in each litre?")
    return additives


def _ask_of_line(
    reader: Reader, told: tuple[AdditiveDose, ...], known: tuple[AdditiveDose, ...]
) -> None:
    text = reader.raw("order_text")
    for written in doubtful_in_line(told, known, text if isinstance(text, str) else ""):
        reader.ask("order_text", written, "This stands in the line of text: is it in this bag?")


def _doses(doses: Doses, spread: Spread, book: NameBook) -> tuple[AdditiveDose, ...]:
    return tuple(dose_of(spread.of(dose), book.vocabulary, dose.as_written) for dose in doses)


def _same(first: AdditiveDose, second: AdditiveDose) -> bool:
    return first.substance == second.substance and first.added == second.added


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
    line = reader.raw("order_text")
    clauses = {depends(text) for text in (written, line) if isinstance(text, str)}
    for clause in sorted(clauses - {""}):
        ask = "This depends on something and is not counted in the bag. Is it in it now?"
        reader.ask("fluid", clause, ask)


def drugs_carried(order: Order, vocabulary: Vocabulary) -> Iterator[CoInfusion]:
    """A drug put into the bag runs with it: an infusion in the order's fluid, by its line."""
    drugs = vocabulary.tables["drugs"]["drug"]
    free = free_of(order.written.lower())
    for dose in order.additives:
        entry = drugs.get(dose.substance)
        if entry is None or "salt" in entry or dose.unread or NO_INFUSION in entry.get("also", ()):
            continue
        yield CoInfusion(
            name=order.written if "kind" in entry else dose.as_written,
            kind=entry.get("kind", "drug"),
            key=dose.substance,
            contents=frozenset((dose.substance, *entry.get("also", ()))) - free,
            lumen=order.lumen,
            diluent=order.fluid,
            carried_by=order.id,
            brings=stated_contents(_contents_words(order), _day_ml(order))
            if entry.get("kind") == "nutrition"
            else None,
            osmolarity_mosm_l=osmolarity_in(order.written),
            schedule=_schedule(dose, order),
        )


def _contents_words(order: Order) -> str:
    return order.written if order.text in ("", order.written) else f"{order.written}; {order.text}"


def _day_ml(order: Order) -> float | None:
    """The bag's volume, or what runs in a day."""
    if order.volume_ml is not None or order.rate_ml_h is None:
        return order.volume_ml
    return order.rate_ml_h * HOURS_PER_DAY


def _schedule(dose: AdditiveDose, order: Order) -> Schedule:
    """The times written beside the drug, or else those of the order's own words."""
    own = read_schedule(dose.as_written)
    if own.doses_per_day is not None or own.is_continuous:
        return own
    times = read_schedule(f"{order.text} {order.written}").doses_per_day
    return replace(own, doses_per_day=times)
