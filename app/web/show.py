"""Numbers and times as text: the only place that rounds."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

SECONDS_PER_MINUTE: Final = 60
MINUTES_PER_HOUR: Final = 60
HOURS_PER_DAY: Final = 24
DAYS_FROM_HOURS: Final = 48
HOURS_SAY_ENOUGH: Final = 10
DAYS_PER_YEAR: Final = 365.25
MONTHS_PER_YEAR: Final = 12
NEONATE_TO_DAYS: Final = 28
AGE_IN_MONTHS_BELOW_YEARS: Final = 2
NOT_KNOWN: Final = "not known"

ANALYTES: Final = {
    "egfr": "eGFR", "ph": "pH", "pco2": "pCO₂", "inr": "INR",
    "calcium_ionised": "ionised calcium", "calcium_total": "total calcium",
    "total_co2": "total CO₂",
}  # fmt: skip
UNITS: Final = {
    "umol/L": "µmol/L", "mL/min/1.73 m2": "mL/min/1.73 m²", "1": "", "mosm/kg": "mOsm/kg",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Aligned:
    """A number in two pieces, so that a column lines up on the decimal point."""

    whole: str
    fraction: str = ""

    def __str__(self) -> str:
        return self.whole + self.fraction


def number(value: float | None, places: int = 1) -> str:
    """A number to at most `places` decimals: no trailing zero, comma from 1,000, true minus.

    What would round to nothing is said to be under the smallest step, never "0".
    """
    if value is None:
        return NOT_KNOWN
    step = 10**-places
    if value and abs(value) < step / 2:
        return f"under {step:.{places}f}"
    text = f"{abs(value):,.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"−{text}" if value < 0 else text


def aligned(value: float | None, places: int = 1) -> Aligned:
    """The same number in two pieces; words ("not known") stay whole."""
    whole, point, fraction = number(value, places).partition(".")
    if whole.startswith("under"):
        return Aligned(number(value, places))
    return Aligned(whole, point + fraction)


def amount(value: float | None, unit: str, places: int = 1) -> str:
    """A number with its unit, or that it is not known."""
    if value is None:
        return NOT_KNOWN
    return f"{number(value, places)} {unit_text(unit)}".strip()


def span(low: float | None, high: float | None, places: int = 1) -> str:
    """A range in words: "25 to 30"; one number when both ends read the same."""
    first, last = number(low, places), number(high, places)
    return first if first == last else f"{first} to {last}"


def unit_text(unit: str) -> str:
    """A unit as people write it."""
    return UNITS.get(unit, unit)


def name_text(name: str) -> str:
    """The name of a result or input as people say it: "ionised calcium", "weight"."""
    plain = name.removesuffix("_kg").removesuffix("_years").removesuffix("_cm")
    plain = plain.removesuffix("_ml_h").removesuffix("_ml")
    return ANALYTES.get(plain, plain.replace("_", " "))


def capital(text: str) -> str:
    """A sentence start, unless the word keeps its own form (pH, eGFR)."""
    keeps = text[:1].islower() and text[1:2].isupper()
    return text if keeps else text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """A text that starts and ends as a sentence does; empty stays empty."""
    if not text:
        return ""
    return capital(text) if text.endswith((".", "?", "!")) else f"{capital(text)}."


def clock(moment: datetime | None, now: datetime) -> str:
    """Time of day on a 24-hour clock, with the date when it is not today's."""
    if moment is None:
        return "time not known"
    local = moment.astimezone(now.tzinfo)
    if local.date() == now.date():
        return f"{local:%H:%M}"
    return f"{day(local)} {local:%H:%M}"


def day(moment: datetime) -> str:
    """A day: "Tue 4 Mar"."""
    return f"{moment:%a} {moment.day} {moment:%b}"


def clock_and_day(moment: datetime) -> str:
    """A moment in full with its zone, for paper: "Tue 4 Mar 2031, 07:05 UTC"."""
    return f"{day(moment)} {moment:%Y}, {moment:%H:%M %Z}".strip()


def duration(length: timedelta | None) -> str:
    """A length of time as people say it: "40 min", "3 h 10 min", "2 d"."""
    if length is None:
        return NOT_KNOWN
    minutes = round(length.total_seconds() / SECONDS_PER_MINUTE)
    hours, rest = divmod(minutes, MINUTES_PER_HOUR)
    if hours >= DAYS_FROM_HOURS:
        return f"{hours // HOURS_PER_DAY} d"
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def about(length: timedelta | None) -> str:
    """A length of time, to the hour once it is long: "1 h 30 min", "14 h", "3 d"."""
    if length is None or length < timedelta(hours=HOURS_SAY_ENOUGH):
        return duration(length)
    return duration(timedelta(hours=round(length / timedelta(hours=1))))


def person_age(years: float | None) -> str:
    """Age as a ward says it: days in a newborn, months in an infant, else years."""
    if years is None:
        return "age not known"
    days = years * DAYS_PER_YEAR
    if days <= NEONATE_TO_DAYS:
        return f"{round(days)} d"
    if years < AGE_IN_MONTHS_BELOW_YEARS:
        return f"{int(years * MONTHS_PER_YEAR)} months"
    return f"{int(years)} y"


def weight(weight_kg: float | None) -> str:
    """Weight, or that there is none."""
    return "weight not known" if weight_kg is None else f"{number(weight_kg, 2)} kg"


def person(initials: str, age_years: float | None, weight_kg: float | None) -> str:
    """Whom a ward speaks of: "D.P., 61 y, 70 kg"."""
    return f"{initials}, {person_age(age_years)}, {weight(weight_kg)}"


def count(n: int, one: str, many: str = "") -> str:
    """A count with its noun: "1 order", "3,480 orders", "no orders"."""
    noun = one if n == 1 else (many or f"{one}s")
    return f"{n:,} {noun}" if n else f"no {noun}"


def signed(value: float, places: int = 1) -> str:
    """A change with its sign: "+1.5", "−2"; one that rounds to nothing is "no change"."""
    rounded = round(value, places)
    if not rounded:
        return "no change"
    return f"+{number(rounded, places)}" if rounded > 0 else number(rounded, places)
