"""How much of an infusion runs, over how long: by volume, duration and rate, which must agree."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.intake.request import Reader, Span

WEEK_MIN: Final = 10_080.0
MINUTES_PER_HOUR: Final = 60.0
MINUTES: Final = {"min": 1.0, "mins": 1.0, "minutes": 1.0, "h": 60.0, "hours": 60.0}
VOLUME: Final = Span(0, 50_000, "mL", {"ml": 1.0, "l": ML_PER_L}, above=True)
START: Final = Span(0, WEEK_MIN, "min", MINUTES)
DURATION: Final = Span(0, WEEK_MIN, "min", MINUTES)
HOURS: Final = Span(0, WEEK_MIN / MINUTES_PER_HOUR, "h", {"h": 1.0, "hours": 1.0})
# A litre pushed in a minute.
RATE: Final = Span(0, 60_000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0}, above=True)
# Rounded figures of one infusion agree within this share, or within a minute.
AGREE_WITHIN: Final = 0.03
A_MINUTE: Final = 1.0


@dataclass(frozen=True, slots=True)
class Pace:
    """What a request says of it; None where it says nothing."""

    volume_ml: float | None
    duration_min: float | None
    rate_ml_h: float | None

    def minutes_for(self, volume_ml: float) -> float | None:
        """How long so much runs, min."""
        if self.duration_min is None and self.rate_ml_h is not None:
            return volume_ml / self.rate_ml_h * MINUTES_PER_HOUR
        return self.duration_min


def read_pace(reader: Reader) -> Pace:
    """The pace of an infusion; what of it disagrees with the rest is refused by its field."""
    minutes = reader.number("duration_min", DURATION)
    hours = reader.number("duration_h", HOURS)
    rate, volume = reader.number("rate_ml_h", RATE), reader.number("volume_ml", VOLUME)
    if hours is not None:
        said = hours * MINUTES_PER_HOUR
        if minutes is not None and not _agree(minutes, said):
            reader.refuse("duration_h", hours, f"the same as duration_min, {minutes:g} min")
        minutes = said if minutes is None else minutes
    if rate is not None and minutes is not None:
        if volume is not None and not _agree(minutes, volume / rate * MINUTES_PER_HOUR):
            accepted = f"with {volume:g} mL over {minutes:g} min, {_rate(volume, minutes)}"
            reader.refuse("rate_ml_h", rate, accepted)
        if volume is None and reader.raw("volume_ml") is None and minutes:
            volume = rate * minutes / MINUTES_PER_HOUR
    return Pace(volume, minutes, rate)


def _agree(one_min: float, other_min: float) -> bool:
    return abs(one_min - other_min) <= max(A_MINUTE, AGREE_WITHIN * max(one_min, other_min))


def _rate(volume_ml: float, minutes: float) -> str:
    if not minutes:
        return "no rate"
    return f"{volume_ml / minutes * MINUTES_PER_HOUR:.4g} mL/h"
