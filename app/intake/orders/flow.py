"""How one order runs: its coded figures, then its words, and what is to be asked of them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from app.intake.orders.settle import settled
from app.intake.pace.clock import end_at, start_at
from app.intake.pace.heard import Body
from app.intake.rates import DURATION, NOTHING, RATE, VOLUME, Flow, flow_of_words
from app.intake.request import Reader

DISAGREE_ABOVE: Final = 0.05
SECONDS_PER_HOUR: Final = 3600.0
FIGURES: Final = (("rate_ml_h", "mL/h"), ("volume_ml", "mL"), ("duration_h", "h"))
DIGITS: Final = "0123456789"


@dataclass(frozen=True, slots=True)
class Asker:
    """Asks about one field of an order, as written."""

    reader: Reader
    name: str
    written: object

    def ask(self, question: str, *, minor: bool = False) -> None:
        """Note what the writer must be asked of this field."""
        self.reader.ask(self.name, self.written, question, minor=minor)


def read_flow(reader: Reader, body: Body, from_name: Flow) -> Flow:
    """Rate, volume and duration of one order: coded figures first, then the words.

    from_name: what the fluid's own name said. A disagreement is asked about, not used.
    """
    rate, duration = _coded_rate(reader), reader.number("duration_h", DURATION)
    flow = Flow(rate, reader.number("volume_ml", VOLUME), duration, duration is not None)
    for name in ("rate_text", "order_text"):
        flow = _with_text(flow, name, reader, body)
    return _with_words(flow, from_name, Asker(reader, "fluid", reader.raw("fluid")))


def with_times(
    flow: Flow, starts_at: datetime | None, now: datetime
) -> tuple[Flow, datetime | None]:
    """The flow with the length that its times give, and when it starts.

    starts_at: the start as coded, which comes before that of the words.
    """
    times = flow.times
    if starts_at is None and times.starts is not None:
        starts_at = start_at(times.starts, now)
    if times.ends is None or (flow.duration_h is not None and not flow.rate_ml_h):
        return flow, starts_at
    since = max(starts_at or now, now) if times.starts is None else starts_at or now
    hours = (end_at(times.ends, since) - since).total_seconds() / SECONDS_PER_HOUR
    return replace(flow, duration_h=hours, stated_duration=True), starts_at


def finished(flow: Flow, reader: Reader, body: Body) -> Flow:
    """The flow once all is known of it: bare figures, bags and doubts settled."""
    field = "rate_text" if reader.raw("rate_text") else "order_text"
    asker = Asker(reader, field, reader.raw(field) or reader.raw("fluid"))
    flow, asks, notes = settled(flow, body)
    for question in asks:
        asker.ask(question)
    for note in (*flow.notes, *notes):
        asker.ask(note, minor=True)
    return flow


def _coded_rate(reader: Reader) -> float | None:
    """The rate; none at all is asked about, since a pump that stands sends zero."""
    written = reader.raw("rate_ml_h")
    if written != 0 or isinstance(written, bool):
        return reader.number("rate_ml_h", RATE)
    reader.ask("rate_ml_h", "0 mL/h", "0 mL/h is written: is it stopped, or at what rate?")
    return None


def _with_text(flow: Flow, name: str, reader: Reader, body: Body) -> Flow:
    text = reader.text(name)
    if not text:
        return flow
    words = flow_of_words(text, body.weight_kg, body.height_cm)
    asker = Asker(reader, name, text)
    if name == "rate_text" and words is NOTHING:
        known = flow.rate_ml_h is not None
        if not known or any(digit in text for digit in DIGITS):
            asker.ask("This rate is not understood: how many mL/h?", minor=known)
    return _with_words(flow, words, asker)


def _with_words(flow: Flow, words: Flow, asker: Asker) -> Flow:
    """Fill what is missing from words; ask where they disagree with what is known."""
    if words is NOTHING:
        return flow
    if flow.rate_ml_h is None:
        for question in words.asks:
            asker.ask(question)
    if words.steps and not flow.steps:
        return _together(flow, words, _of_steps(flow, words, asker))
    words = _of_several_bags(words, flow.volume_ml)
    figures: dict[str, float | None] = {}
    if _at_one_pace(flow, words):
        words = replace(words, volume_ml=None, duration_h=None)
    for name, unit in FIGURES:
        coded, written = getattr(flow, name), getattr(words, name)
        figures[name] = written if coded is None else coded
        if coded is not None and written is not None and _disagree(coded, written):
            asker.ask(f"The words say {written:g} {unit}, the order {coded:g} {unit}. Which?")
    return _together(flow, words, figures)


def _at_one_pace(flow: Flow, words: Flow) -> bool:
    """ "1 L 12-hourly" beside 2 L in 24 h: the bag in words, the day in figures."""
    if not (flow.volume_ml and flow.duration_h and words.volume_ml and words.duration_h):
        return False
    coded, written = flow.volume_ml / flow.duration_h, words.volume_ml / words.duration_h
    return not _disagree(coded, written) and flow.duration_h > words.duration_h


def _of_several_bags(words: Flow, bag_ml: float | None) -> Flow:
    """ "3 L over 24 h" of one-litre bags: three bags, each in its share of the time."""
    if bag_ml is None or words.volume_ml is None or words.duration_h is None:
        return words
    bags = round(words.volume_ml / bag_ml)
    if bags < 2 or _disagree(bags * bag_ml, words.volume_ml):  # noqa: PLR2004 - several
        return words
    return replace(words, volume_ml=bag_ml, duration_h=words.duration_h / bags, bags=bags)


def _of_steps(flow: Flow, words: Flow, asker: Asker) -> dict[str, float | None]:
    """The figures of the first step; a coded rate may be that of any."""
    coded = flow.rate_ml_h
    if coded is not None and all(_disagree(coded, step.rate_ml_h or 0) for step in words.steps):
        asker.ask(f"{coded:g} mL/h is the order's rate, and none of those written. Which?")
    volume_ml = flow.volume_ml or words.volume_ml
    return {"rate_ml_h": words.rate_ml_h, "volume_ml": volume_ml, "duration_h": flow.duration_h}


def _together(flow: Flow, words: Flow, figures: Mapping[str, float | None]) -> Flow:
    """The three figures, and all that the words say beside them added to what was said before."""
    return Flow(
        rate_ml_h=figures["rate_ml_h"],
        volume_ml=figures["volume_ml"],
        duration_h=figures["duration_h"],
        stated_duration=flow.stated_duration or words.stated_duration,
        is_bolus=flow.is_bolus or words.is_bolus,
        wants=(*flow.wants, *words.wants),
        notes=(*flow.notes, *words.notes),
        of_bag=flow.of_bag or words.of_bag,
        bags=max(flow.bags, words.bags),
        steps=flow.steps or words.steps,
        bare=flow.bare or words.bare,
        is_at=flow.is_at or words.is_at,
        bare_over=flow.bare_over or words.bare_over,
        dose_rates=flow.dose_rates or words.dose_rates,
        keeps_open=flow.keeps_open or words.keeps_open,
        by_losses=flow.by_losses or words.by_losses,
        as_needed=flow.as_needed or words.as_needed,
        times=flow.times if words.times.starts is words.times.ends is None else words.times,
        place=words.place if words.place.number or words.place.follows else flow.place,
        not_given=flow.not_given or words.not_given,
    )


def _disagree(first: float, second: float) -> bool:
    return abs(first - second) > DISAGREE_ABOVE * max(first, second)
