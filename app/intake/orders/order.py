"""One order in people's words, read into an Order."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import Final

from app.chemistry.composition import Composition
from app.intake.additives import Spread, ask_of_potassium, dose_of, read_additives
from app.intake.drugs import FREE_OF, free_of, osmolarity_in
from app.intake.fluids import FluidReading, NameBook
from app.intake.orders.contents import stated_contents
from app.intake.orders.flow import complete, read_flow
from app.intake.orders.reasons import cut_reason, read_why
from app.intake.orders.schedule import read_schedule
from app.intake.rates import Flow, cut_rate_words, flow_of_words
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, CoInfusion, Order, Purpose, Question
from app.patient.schedule import Schedule
from app.patient.snapshot import Snapshot

# A resuscitation fluid given within this time, or at this rate, is a bolus (common practice).
BOLUS_WITHIN_H: Final = 2.0
BOLUS_FROM_ML_H: Final = 500.0
SECONDS_PER_HOUR: Final = 3600.0
ADDED: Final = re.compile(r"(?:\b(?:with|plus|containing|and|added)\b|\+|[,;(]\s*(?=[a-z])).*")
AMOUNT: Final = re.compile(r"\d\s*(?:mmols?|meqs?|g|grams?|mg|units?|%)(?![a-z])")
# Put into a bag without being an infusion of its own.
NO_INFUSION: Final = "vitamin"


def read_order(reader: Reader, number: int, patient: Snapshot, book: NameBook) -> Order:
    """One order; what is doubtful in it becomes questions that belong to it."""
    asked_before = len(reader.problems.questions)
    order_id = reader.label("id") or f"o{number}"
    # An order that came as one line of text names its fluid there.
    written = reader.text("fluid") or reader.text("order_text") or ""
    name, rate_words = cut_rate_words(written)
    name = f"{name} {added_behind(rate_words)}".strip()
    name, reason_words = cut_reason(FREE_OF.sub(" ", name), book.vocabulary)
    flow = read_flow(reader, patient.weight_kg, flow_of_words(rate_words, patient.weight_kg))
    reading = book.read(name, flow.volume_ml) if name else FluidReading()
    flow = _with_named_volume(flow, reading)
    spread = Spread(flow.rate_ml_h, patient.weight_kg)
    additives = _additives(reader, reading, flow, spread, book)
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


def added_behind(rate_words: str) -> str:
    """What words behind a rate put into the bag: "with KCl 20 mmol/L" of "100 mL/h with KCl ...".

    Nothing where they state no amount.
    """
    match = ADDED.search(rate_words)
    return match[0] if match and AMOUNT.search(match[0]) else ""


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
    reader: Reader, reading: FluidReading, flow: Flow, spread: Spread, book: NameBook
) -> tuple[AdditiveDose, ...]:
    listed = read_additives(reader.readers("additives"), book.vocabulary, spread)
    named = tuple(
        dose_of(spread.of(dose), book.vocabulary, dose.as_written) for dose in reading.doses
    )
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
            brings=stated_contents(order.written, order.volume_ml)
            if entry.get("kind") == "nutrition"
            else None,
            osmolarity_mosm_l=osmolarity_in(order.written),
            schedule=_schedule(dose, order),
        )


def _schedule(dose: AdditiveDose, order: Order) -> Schedule:
    """The times written beside the drug, or else those of the order's own words."""
    own = read_schedule(dose.as_written)
    if own.doses_per_day is not None or own.is_continuous:
        return own
    times = read_schedule(f"{order.text} {order.written}").doses_per_day
    return replace(own, doses_per_day=times)
