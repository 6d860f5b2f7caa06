"""What an order's words and lists say of its bag: its volume, and what is put into it."""

from dataclasses import replace

from app.chemistry.composition import Composition
from app.intake.additives import Spread, dose_of, read_additives
from app.intake.fluids import NO_FLUID, FluidReading, NameBook
from app.intake.orders.quantities import bag_of_dose
from app.intake.orders.settle import complete
from app.intake.pace.heard import Body
from app.intake.rates import Flow, flow_of_words
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary
from app.intake.wording.amounts import NO_AMOUNT
from app.intake.wording.line import doubtful_in_line, new_in_line, without_doses
from app.intake.wording.made_up import Doses
from app.patient.order import AdditiveDose


def bag_alone(reader: Reader, vocabulary: Vocabulary) -> Reader:
    """The order without the mL of what is added, which are none of the bag's."""
    texts = {name: reader.raw(name) for name in ("order_text", "rate_text")}
    said = {k: without_doses(t, vocabulary) for k, t in texts.items() if isinstance(t, str)}
    return reader.reworded(said) if any(said[k] != texts[k] for k in said) else reader


def stated_ml(reader: Reader, flow: Flow, rate_words: str, body: Body) -> float | None:
    """The volume somebody wrote, and not the one that rate and time come to."""
    if flow.volume_ml is None or reader.raw("volume_ml") is not None:
        return flow.volume_ml
    texts = (reader.raw("order_text"), reader.raw("rate_text"), rate_words)
    said = (
        flow_of_words(t, body.weight_kg, body.height_cm).volume_ml
        for t in texts
        if isinstance(t, str)
    )
    return flow.volume_ml if any(said) else None


def with_named_volume(flow: Flow, reading: FluidReading, name: str) -> Flow:
    """The flow with the volume that the fluid's name gives, be it only the one of a dose."""
    if flow.volume_ml is not None:
        return flow
    volume_ml = reading.volume_ml or bag_of_dose(name)
    return flow if volume_ml is None else complete(replace(flow, volume_ml=volume_ml))


def additives_of(
    reader: Reader, readings: tuple[FluidReading, FluidReading], flow: Flow, spread: Spread,
    book: NameBook,
) -> tuple[AdditiveDose, ...]:  # fmt: skip
    """What is put into the bag: by the name, by the list, and by the line beside them."""
    reading, line = readings
    listed = read_additives(reader.readers("additives"), book.vocabulary, spread)
    amounts = {dose.substance for dose in listed if not dose.unread}
    # "0.9% saline + KCl" is the potassium whose amount the list gives.
    named = tuple(
        dose
        for dose in _doses(reading.doses, spread, book)
        if not (dose.unread == NO_AMOUNT and dose.substance in amounts)
    )
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
    # What nutrition holds is that of its bag, or of a day.
    spread_over = flow.volume_ml is not None or reading.ask == NO_FLUID
    for dose in additives:
        if dose.unread:
            reader.ask("additives", dose.as_written, dose.unread)
        elif not spread_over and not dose.per_litre and dose.added != Composition():
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
