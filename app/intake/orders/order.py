"""One order in people's words, read into an Order."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from typing import Final

from app.intake.additives import Spread, ask_of_potassium
from app.intake.fluids import MADE_UP, FluidReading, NameBook
from app.intake.medicines.nutrition import FREE_OF, free_of, osmolarity_in
from app.intake.orders.bag import additives_of, bag_alone, stated_ml, with_named_volume
from app.intake.orders.contents import stated_contents
from app.intake.orders.dose_rates import with_dose_rate
from app.intake.orders.flow import finished, read_flow, with_times
from app.intake.orders.reasons import Why, cut_reason, read_why
from app.intake.orders.schedule import read_schedule
from app.intake.orders.step_fluids import step_fluids
from app.intake.orders.steps import parted
from app.intake.pace.clauses import THEN, not_given, without_asides
from app.intake.pace.cut import cut_rate_words
from app.intake.pace.heard import Body
from app.intake.pace.spelling import plain
from app.intake.rates import NOTHING, Flow, flow_of_words
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary
from app.intake.wording.line import added_behind, depends, with_line, without_doses
from app.intake.wording.unmeant import by_tube, meant
from app.patient.mixture import mixture
from app.patient.order import HOURS_PER_DAY, AdditiveDose, CoInfusion, Order, Question
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
# A rate that follows what is lost is none that a pump is set to.
LOSS_FOR_LOSS: Final = "loss_for_loss"
NUTRITION: Final = "nutrition"
# Put into a bag without being an infusion of its own.
NO_INFUSION: Final = "vitamin"


@dataclass(frozen=True, slots=True)
class _Words:
    """An order's fluid as written, its name alone, why it is given, and how it runs."""

    written: str
    name: str
    reason: str
    rate: str


@dataclass(frozen=True, slots=True)
class _Pace:
    """How an order runs and from when, with what its name means at that volume.

    line: what the line of text beside it means.
    """

    flow: Flow
    starts_at: datetime | None
    reading: FluidReading
    line: FluidReading


@dataclass(frozen=True, slots=True)
class _Read:
    """All that was read of an order."""

    words: _Words
    pace: _Pace
    additives: tuple[AdditiveDose, ...]
    why: Why


def read_order(reader: Reader, number: int, patient: Snapshot, book: NameBook) -> tuple[Order, ...]:
    """One order, or one for each of its steps ("250 mL/h for 2 h then 125"); what is doubtful in
    it becomes questions that belong to the first.
    """
    asked_before = len(reader.problems.questions)
    words = _words_of(reader, book)
    pace = _pace_of(reader, words, patient, book)
    spread = Spread(pace.flow.rate_ml_h, patient.weight_kg)
    additives = additives_of(reader, (pace.reading, pace.line), pace.flow, spread, book)
    why = read_why(reader, f"{words.reason} {words.rate}".strip(), book.vocabulary)
    order = _order_of(reader, number, _Read(words, pace, additives, why), patient)
    _ask_of_fluid(reader, words.written, pace.reading)
    ask_of_potassium(reader, additives, order.mix)
    reader.ask_unknown()
    if pace.flow.steps and order.purpose == "resuscitation" and not reader.text("purpose"):
        # A bolus written before it is no reason for what goes on after it.
        order = replace(order, purpose=None)
    parts = step_fluids(parted(order, pace.flow.steps, patient.now), pace.flow.steps, reader, book)
    questions = _taken(reader.problems.questions, asked_before)
    if questions:
        first = replace(parts[0], questions=(*parts[0].questions, *questions))
        parts = (first, *parts[1:])
    return tuple(replace(part, is_bolus=True) if _given_fast(part) else part for part in parts)


def _words_of(reader: Reader, book: NameBook) -> _Words:
    """An order that came as one line of text names its fluid there."""
    written = reader.text("fluid") or reader.text("order_text") or ""
    return _Words(written, *_parted(written, book.vocabulary))


def _pace_of(reader: Reader, words: _Words, patient: Snapshot, book: NameBook) -> _Pace:
    body, vocabulary = Body(patient.weight_kg, patient.height_cm), book.vocabulary
    bag = bag_alone(reader, vocabulary)
    said = flow_of_words(words.rate, body.weight_kg, body.height_cm) if words.rate else NOTHING
    flow = read_flow(bag, body, said)
    flow, starts_at = with_times(flow, reader.time("starts_at", patient.now), patient.now)
    volume_ml = stated_ml(bag, flow, words.rate, body)
    read = partial(book.read, volume_ml=volume_ml, weight_kg=patient.weight_kg)
    reading, line = _in_the_bag(reader, words.written, words.name, vocabulary, read)
    flow = with_dose_rate(with_named_volume(flow, reading, words.name), reading, reader)
    return _Pace(finished(flow, reader, body), starts_at, reading, line)


def _order_of(reader: Reader, number: int, read: _Read, patient: Snapshot) -> Order:
    flow, fluid, why = read.pace.flow, read.pace.reading.fluid, read.why
    return Order(
        id=reader.label("id") or f"o{number}",
        written=read.words.written,
        fluid=fluid,
        candidates=read.pace.reading.candidates,
        additives=read.additives,
        volume_ml=flow.volume_ml,
        rate_ml_h=flow.rate_ml_h,
        duration_h=flow.duration_h,
        starts_at=read.pace.starts_at,
        running_h=_running_h(read.pace.starts_at, patient.now),
        review_at=reader.time("review_at", patient.now),
        lumen=reader.label("lumen"),
        purpose=why.purpose,
        purpose_written=why.written,
        is_bolus=flow.is_bolus,
        mix=None if fluid is None else mixture(fluid, read.additives, flow.volume_ml),
        stated_duration=flow.stated_duration,
        text=reader.text("order_text") or "",
        reasons=why.reasons | {LOSS_FOR_LOSS} if flow.by_losses else why.reasons,
        bags=flow.bags,
        bag_number=flow.place.number,
        follows=flow.place.follows,
        not_given=flow.not_given or not_given(plain(read.words.written)),
    )


def _parted(text: str, vocabulary: Vocabulary) -> tuple[str, str, str]:
    """An order's words parted: what is in the bag, the reason, and how it runs."""
    name, rate_words = cut_rate_words(meant(text))
    added = added_behind(without_asides(THEN.split(rate_words)[0]))
    name = FREE_OF.sub(" ", f"{name} {added}".strip())
    name, reason_words = cut_reason(name, vocabulary)
    return name.strip(), reason_words, without_doses(rate_words, vocabulary)


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


def _given_fast(order: Order) -> bool:
    if order.purpose != "resuscitation":
        return False
    if order.rate_ml_h is None:
        return True
    short = order.stated_duration and (order.duration_h or 0) <= BOLUS_WITHIN_H
    return short or order.rate_ml_h >= BOLUS_FROM_ML_H


def _running_h(starts_at: datetime | None, now: datetime) -> float | None:
    if starts_at is None or starts_at > now:
        return None
    return (now - starts_at).total_seconds() / SECONDS_PER_HOUR


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
    # A bag of nutrition is one thing, by whatever names: what it brings is told once.
    nutrition = [d for d in order.additives if drugs.get(d.substance, {}).get("kind") == NUTRITION]
    nutrition.sort(key=lambda dose: dose.substance != MADE_UP)
    for dose in order.additives:
        entry = drugs.get(dose.substance)
        if (
            dose in nutrition[1:]
            or entry is None
            or "salt" in entry
            or dose.unread
            or NO_INFUSION in entry.get("also", ())
        ):
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
            if entry.get("kind") == NUTRITION
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
