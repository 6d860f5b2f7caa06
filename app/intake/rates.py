"""Rate, volume and duration: as given, from words, and each worked out from the other two."""

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.intake.request import Span
from app.intake.vocabulary import fold

HOURS_PER_DAY: Final = 24.0
MINUTES_PER_HOUR: Final = 60.0
HOUR_WORDS: Final = {
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "hourly", "hrly"), 1.0),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), 1 / MINUTES_PER_HOUR),
    **dict.fromkeys(("d", "day", "days", "24h", "24 h", "24hr", "24 hours"), HOURS_PER_DAY),
}
ML_WORDS: Final = {
    **dict.fromkeys(("ml", "mls", "cc", "millilitres", "milliliters"), 1.0),
    **dict.fromkeys(("l", "litre", "liter", "litres", "liters"), ML_PER_L),
}
RATE_WORDS: Final = {
    f"{ml}/{time}": factor / hours
    for ml, factor in ML_WORDS.items()
    for time, hours in HOUR_WORDS.items()
}
# The fastest rapid infusers give about 500 mL/min (common practice, no source).
RATE: Final = Span(0.001, 30_000, "mL/h", RATE_WORDS)
VOLUME: Final = Span(0.001, 50_000, "mL", ML_WORDS)
DURATION: Final = Span(0.001, 31 * HOURS_PER_DAY, "hours", HOUR_WORDS)

NUMBER: Final = r"(?<![\d./])(\d+(?:\.\d+)?|\.\d+)"
RANGE: Final = rf"{NUMBER}(?:\s*(?:-|to)\s*{NUMBER})?"
ML: Final = r"\s*(mls?|cc|millilitres|milliliters|litres?|liters?|l)\b"
TIME: Final = r"(24\s?h(?:ours?|rs?)?|hourly|hrly|hours?|hrs?|h|minutes?|mins?|days?|d)\b"
PER: Final = r"\s*(?:/|per|an|each)\s*"
KG_RATE: Final = re.compile(rf"{RANGE}\s*(?:mls?|cc){PER}kg{PER}{TIME}")
KG_VOLUME: Final = re.compile(rf"{RANGE}\s*(?:mls?|cc){PER}kg\b")
PLAIN_RATE: Final = re.compile(rf"{RANGE}{ML}(?:{PER}{TIME}|\s*(hourly|hrly)\b)")
DROPS: Final = re.compile(rf"{NUMBER}\s*(?:drops?|gtts?){PER}min\w*")
DROP_SET: Final = re.compile(rf"{NUMBER}\s*(?:drops?|gtts?){PER}ml")
OVER: Final = re.compile(rf"\b(?:over|in|for|within)\s+(?:the\s+)?{RANGE}\s*-?{TIME}")
HOURLY: Final = rf"{NUMBER}[ -]?(?:hou|h)rly\b"
EVERY: Final = re.compile(
    rf"\b(?:q|every)\s*{NUMBER}\s*{TIME}|{HOURLY}|\b{NUMBER}\s*/\s*24\b(?!\s*h)"
)
BAGS: Final = re.compile(r"\b(?:x\s?(\d)\b|(\d)\s*x\b|(\d)\s*bags\b)")
VOLUME_WORDS: Final = re.compile(rf"{NUMBER}{ML}(?!\s*/|\s*per)")
BOLUS: Final = re.compile(
    r"\b(?:bolus\w*|stat|push|ivp|wide open|free flow|challenge|as fast as possible|rapid(?:ly)?)\b"
)
NO_RATE: Final = re.compile(
    r"\b(?:titrat\w+|per protocol|as per|prn|as needed|as required|if needed|adjust\w*|variable)\b"
)
OPEN: Final = re.compile(r"\b(?:kvo|tko|tkvo|keep vein open|keep the vein open|keep open)\b")
HALF_LITRE: Final = re.compile(r"\bhalf (?:a )?(?:litre|liter|l)\b|\b1/2\s*(?:litre|liter|l)\b")
HALF_HOUR: Final = re.compile(r"\bhalf (?:an )?hour\b|\b1/2\s*(?:h|hr|hour)\b")
CUT: Final = re.compile(
    rf"\s*[,;]?\s*(?:(?:\bat|@)\s*\d|\bover\s+\d|\bover half\b"
    rf"|{RANGE}\s*(?:mls?|cc|l)(?:/kg)?\s*(?:/|per)\s*"
    rf"(?:h|hr|hour|min|day|d|kg)\b|{HOURLY}|\bq\s?\d+\s?h\b"
    r"|\b(?:stat|bolus|push|ivp|kvo|tko|tkvo)\b|\bkeep vein open\b"
    r"|\b(?:iv )?for (?:resuscitation|maintenance|replacement)).*"
)


@dataclass(frozen=True, slots=True)
class Flow:
    """How an order runs; None where neither written nor to be worked out.

    asks: what to ask of the words. stated_duration: the writer said when it ends.
    """

    rate_ml_h: float | None = None
    volume_ml: float | None = None
    duration_h: float | None = None
    stated_duration: bool = False
    is_bolus: bool = False
    asks: tuple[str, ...] = ()


@dataclass(slots=True)
class _Heard:
    """What the words say, figure by figure."""

    rates: list[float] = field(default_factory=list)
    volumes: list[float] = field(default_factory=list)
    durations: list[float] = field(default_factory=list)
    bags: int = 1
    repeats: bool = False
    asks: list[str] = field(default_factory=list)


@lru_cache(maxsize=4096)
def cut_rate_words(name: str) -> tuple[str, str]:
    """A fluid's name without the rate written behind it, and those words."""
    folded = fold(name)
    match = CUT.search(folded)
    if not match:
        return name, ""
    head = folded[: match.start()]
    return (head, folded[match.start() :]) if head.strip() else (name, "")


@lru_cache(maxsize=4096)
def flow_of_words(text: str, weight_kg: float | None) -> Flow:
    """What words such as "1 L over 8 h" or "2 mL/kg/h" say. A range or a doubt is asked about."""
    heard = _Heard()
    left = HALF_LITRE.sub("0.5 l", HALF_HOUR.sub("30 min", fold(text)))
    for hear in (_hear_drops, _hear_kg, _hear_rate, _hear_duration, _hear_bags):
        left = hear(left, heard, weight_kg)
    heard.volumes += [float(m[1]) * ML_WORDS[m[2]] for m in VOLUME_WORDS.finditer(left)]
    rate = _single(heard.rates, RATE, heard)
    volume = _single(heard.volumes, VOLUME, heard)
    duration = _single(heard.durations, DURATION, heard)
    bolus = bool(BOLUS.search(left))
    if not (rate or duration or heard.asks) and (NO_RATE.search(left) or OPEN.search(left)):
        heard.asks.append("At what rate, in mL/h?")
    return Flow(
        rate,
        None if volume is None else volume * heard.bags,
        None if duration is None else duration * heard.bags,
        _ends(heard, bolus, volume, duration),
        bolus,
        tuple(heard.asks),
    )


def _ends(heard: _Heard, bolus: bool, volume: float | None, duration: float | None) -> bool:
    """True when the words say when it ends: "8-hourly" alone is one bag after another."""
    if duration is None:
        return bolus and volume is not None
    return heard.bags > 1 or not heard.repeats


def _single(heard_figures: list[float], span: Span, heard: _Heard) -> float | None:
    """The one figure of its kind; several different or impossible ones are asked about."""
    figures = list(dict.fromkeys(heard_figures))
    shown = " or ".join(f"{figure:g}" for figure in figures)
    if len(figures) > 1:
        heard.asks.append(f"Several figures are written: {shown} {span.unit}. Which, for how long?")
        return None
    if figures and not span.holds(figures[0]):
        heard.asks.append(f"{shown} {span.unit} cannot be meant; {span.accepted} is accepted.")
        return None
    return figures[0] if figures else None


def _hear_range(match: re.Match[str], heard: _Heard, unit: str) -> float | None:
    """The number of a match, or None when it is a range, which is asked about."""
    if match[2] is None:
        return float(match[1])
    heard.asks.append(f"{match[1]} to {match[2]} {unit} is a range: at which rate does it run?")
    return None


def _hear_drops(text: str, heard: _Heard, _weight_kg: float | None) -> str:
    match = DROPS.search(text)
    if not match:
        return text
    per_ml = DROP_SET.search(text)
    if per_ml and float(per_ml[1]):
        heard.rates.append(float(match[1]) * MINUTES_PER_HOUR / float(per_ml[1]))
    else:
        heard.asks.append(f"{match[0]}: how many drops does the giving set give in 1 mL?")
    return DROP_SET.sub("", DROPS.sub("", text))


def _hear_kg(text: str, heard: _Heard, weight_kg: float | None) -> str:
    for match in KG_RATE.finditer(text):
        number = _hear_range(match, heard, "mL/kg")
        if number is not None and weight_kg is None:
            heard.asks.append(f"{match[0]} needs the weight.")
        elif number is not None and weight_kg is not None:
            heard.rates.append(number * weight_kg / _hours(match[3]))
    text = KG_RATE.sub("", text)
    for match in KG_VOLUME.finditer(text):
        number = _hear_range(match, heard, "mL/kg")
        if number is not None and weight_kg is None:
            heard.asks.append(f"{match[0]} needs the weight.")
        elif number is not None and weight_kg is not None:
            heard.volumes.append(number * weight_kg)
    return KG_VOLUME.sub("", text)


def _hear_rate(text: str, heard: _Heard, _weight_kg: float | None) -> str:
    for match in PLAIN_RATE.finditer(text):
        number = _hear_range(match, heard, "mL/h")
        if number is not None:
            heard.rates.append(number * ML_WORDS[match[3]] / _hours(match[4] or match[5]))
    return PLAIN_RATE.sub("", text)


def _hear_duration(text: str, heard: _Heard, _weight_kg: float | None) -> str:
    for match in OVER.finditer(text):
        if match[2]:
            heard.asks.append(f"{match[0]} is a range: over how long?")
        else:
            heard.durations.append(float(match[1]) * _hours(match[3]))
    text = OVER.sub("", text)
    for match in EVERY.finditer(text):
        unit_h = _hours(match[2]) if match[1] else 1.0
        heard.durations.append(float(match[1] or match[3] or match[4]) * unit_h)
        heard.repeats = True
    return EVERY.sub("", text)


def _hear_bags(text: str, heard: _Heard, _weight_kg: float | None) -> str:
    if match := BAGS.search(text):
        heard.bags = int(next(filter(None, match.groups()))) or 1
    return BAGS.sub("", text)


def _hours(word: str) -> float:
    return HOURS_PER_DAY if word.startswith("24") else HOUR_WORDS[word]
