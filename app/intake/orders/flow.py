"""How one order runs: its coded figures, then its words, and what is to be asked of them."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Final

from app.intake.rates import DURATION, OPEN, RATE, VOLUME, Flow, flow_of_words
from app.intake.request import Reader
from app.intake.vocabulary import fold

DISAGREE_ABOVE: Final = 0.05
# A bag that is not quite emptied is no contradiction (common practice, no source).
CONTRADICT_ABOVE: Final = 0.35
PLAN_FROM_H: Final = 12.0
CHILD_TO_KG: Final = 35.0
Asker = Callable[[str], None]


def read_flow(reader: Reader, weight_kg: float | None, from_name: Flow) -> Flow:
    """Rate, volume and duration of one order: coded figures first, then the words.

    from_name: what the fluid's own name said. A disagreement is asked about, not used.
    """
    coded = Flow(
        _coded_rate(reader),
        reader.number("volume_ml", VOLUME),
        reader.number("duration_h", DURATION),
    )
    flow = replace(coded, stated_duration=coded.duration_h is not None)
    flow = _with_text(flow, "rate_text", reader, weight_kg)
    flow = _with_text(flow, "order_text", reader, weight_kg)
    flow = _with_words(flow, from_name, partial(reader.ask, "fluid", reader.raw("fluid")))
    return complete(_settled(flow, reader, weight_kg))


def _coded_rate(reader: Reader) -> float | None:
    """The rate; none at all is asked about, since a pump that stands sends zero."""
    written = reader.raw("rate_ml_h")
    if written != 0 or isinstance(written, bool):
        return reader.number("rate_ml_h", RATE)
    reader.ask("rate_ml_h", "0 mL/h", "0 mL/h is written: is it stopped, or at what rate?")
    return None


def _with_text(flow: Flow, name: str, reader: Reader, weight_kg: float | None) -> Flow:
    text = reader.text(name)
    if not text:
        return flow
    words = flow_of_words(text, weight_kg)
    if name == "rate_text" and words == Flow() and not OPEN.search(fold(text)):
        reader.ask(name, text, "This rate is not understood: how many mL/h?")
    return _with_words(flow, words, partial(reader.ask, name, text))


def _with_words(flow: Flow, words: Flow, ask: Asker) -> Flow:
    """Fill what is missing from words; ask where they disagree with what is known."""
    if flow.rate_ml_h is None:
        for question in words.asks:
            ask(question)
    for name, unit in (("rate_ml_h", "mL/h"), ("volume_ml", "mL"), ("duration_h", "h")):
        coded, written = getattr(flow, name), getattr(words, name)
        if coded is None:
            flow = replace(flow, **{name: written})
        elif written is not None and _disagree(coded, written):
            ask(f"The words say {written:g} {unit}, the order {coded:g} {unit}. Which?")
    return replace(
        flow,
        stated_duration=flow.stated_duration or words.stated_duration,
        is_bolus=flow.is_bolus or words.is_bolus,
    )


def _disagree(first: float, second: float, above: float = DISAGREE_ABOVE) -> bool:
    return abs(first - second) > above * max(first, second)


def _settled(flow: Flow, reader: Reader, weight_kg: float | None) -> Flow:
    """Ask when rate, volume and duration contradict each other; the rate is used."""
    rate, volume, duration = flow.rate_ml_h, flow.volume_ml, flow.duration_h
    if rate is None or volume is None or duration is None:
        return flow
    # A long plan needs several bags, or in a child a part of one: the volume is then the bag's.
    light = weight_kg is not None and weight_kg <= CHILD_TO_KG
    plan = duration >= PLAN_FROM_H and (light or rate * duration > volume)
    if plan or not _disagree(rate * duration, volume, CONTRADICT_ABOVE):
        return flow
    gives = f"{rate:.3g} mL/h for {duration:g} h is {rate * duration:.4g} mL"
    ask = f"{gives}, but {volume:g} mL is ordered ({volume / duration:.3g} mL/h). Which?"
    reader.ask("rate_ml_h", f"{rate:.3g} mL/h", ask)
    return replace(flow, duration_h=None)


def complete(flow: Flow) -> Flow:
    """The third of rate, volume and duration from the other two."""
    rate, volume, duration = flow.rate_ml_h, flow.volume_ml, flow.duration_h
    if rate is None and volume is not None and duration is not None:
        return replace(flow, rate_ml_h=volume / duration)
    if volume is None and rate is not None and duration is not None:
        return replace(flow, volume_ml=rate * duration)
    if duration is None and rate is not None and volume is not None:
        return replace(flow, duration_h=volume / rate)
    return flow
