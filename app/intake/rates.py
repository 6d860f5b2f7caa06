"""Rate, volume and duration: as given, from words, and each worked out from the other two."""

from dataclasses import dataclass
from typing import Final

from app.intake.request import Reader, Span

ML_PER_L: Final = 1000.0
RATE_UNITS: Final = {
    **dict.fromkeys(("ml/h", "ml/hr", "ml/hour", "mls/h", "mls/hr", "cc/h", "cc/hr"), 1.0),
    **dict.fromkeys(("ml/min", "ml/minute", "mls/min"), 60.0),
    **dict.fromkeys(("l/h", "l/hr"), 1000.0),
}
VOLUME_UNITS: Final = {
    "ml": 1.0,
    "mls": 1.0,
    "cc": 1.0,
    "l": 1000.0,
    "litre": 1000.0,
    "liter": 1000.0,
}
HOUR_UNITS: Final = {
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), 1.0),
    **dict.fromkeys(("min", "mins", "minutes"), 1 / 60),
    **dict.fromkeys(("d", "day", "days"), 24.0),
}
# The fastest rapid infusers give about 500 mL/min (common practice, no source).
RATE: Final = Span(0, 30_000, "mL/h", RATE_UNITS, above=True)
VOLUME: Final = Span(0, 50_000, "mL", VOLUME_UNITS, above=True)
DURATION: Final = Span(0, 744, "hours", HOUR_UNITS, above=True)


@dataclass(frozen=True, slots=True)
class Flow:
    """How an order runs; None where neither written nor to be worked out."""

    rate_ml_h: float | None = None
    volume_ml: float | None = None
    duration_h: float | None = None
    stated_duration: bool = False
    is_bolus: bool = False


def read_flow(reader: Reader, weight_kg: float | None, named_ml: float | None = None) -> Flow:
    """Rate, volume and duration of one order."""
    rate = reader.number("rate_ml_h", RATE)
    volume = reader.number("volume_ml", VOLUME) or named_ml
    duration = reader.number("duration_h", DURATION)
    return complete(Flow(rate, volume, duration, stated_duration=duration is not None))


def complete(flow: Flow) -> Flow:
    """The third of rate, volume and duration from the other two."""
    rate, volume, duration = flow.rate_ml_h, flow.volume_ml, flow.duration_h
    if rate is None and volume is not None and duration is not None:
        rate = volume / duration
    elif volume is None and rate is not None and duration is not None:
        volume = rate * duration
    elif duration is None and rate is not None and volume is not None:
        duration = volume / rate
    return Flow(rate, volume, duration, flow.stated_duration, flow.is_bolus)
