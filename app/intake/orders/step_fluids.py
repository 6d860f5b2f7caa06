"""A later step of an order that names a fluid of its own: "1 L saline over 8 h then 5% glucose"."""

from dataclasses import replace

from app.intake.additives import dose_of
from app.intake.fluids import FluidReading, NameBook
from app.intake.pace.cut import cut_rate_words
from app.intake.rates import Flow
from app.intake.request import Reader
from app.intake.vocabulary import plain_words, words_of
from app.patient.mixture import mixture
from app.patient.order import Order


def step_fluids(
    parts: tuple[Order, ...], steps: tuple[Flow, ...], reader: Reader, book: NameBook
) -> tuple[Order, ...]:
    """The parts with the fluids that their own steps name; what cannot be read is asked about."""
    later = zip(parts[1:], steps[1:], strict=False)
    return (*parts[:1], *(_with_own_fluid(part, step, reader, book) for part, step in later))


def _with_own_fluid(part: Order, step: Flow, reader: Reader, book: NameBook) -> Order:
    name = cut_rate_words(step.said)[0]
    if not any(book.vocabulary.fluids.hits(plain_words(words_of(name)))):
        return part
    reading = book.read(name, part.volume_ml)
    if reading.fluid is None:
        reader.ask("order_text", step.said, "Which fluid is this, and is it an order of its own?")
        return part
    return _of(part, reading, name, book)


def _of(part: Order, reading: FluidReading, name: str, book: NameBook) -> Order:
    doses = tuple(dose_of(dose, book.vocabulary, dose.as_written) for dose in reading.doses)
    fluid = reading.fluid
    return replace(
        part,
        written=name,
        fluid=fluid,
        candidates=(),
        additives=doses,
        mix=None if fluid is None else mixture(fluid, doses, part.volume_ml),
    )
