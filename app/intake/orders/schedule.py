"""How often a drug is given, and its dose, from words: "4.5 g q8h", "50 mg/kg 6-hourly"."""

import re
from functools import lru_cache
from typing import Final

from app.intake.vocabulary import fold
from app.patient.schedule import Schedule

HOURS_PER_DAY: Final = 24.0
NUMBER: Final = r"(\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?)"
MASS_G: Final = {
    **dict.fromkeys(("g", "gm", "gram", "grams"), 1.0), "mg": 1e-3,
    **dict.fromkeys(("mcg", "ug", "microg", "microgram", "micrograms"), 1e-6),
}  # fmt: skip
COUNTS: Final = {
    "once": 1.0, "one": 1.0, "twice": 2.0, "two": 2.0, "thrice": 3.0, "three": 3.0, "four": 4.0,
    "five": 5.0, "six": 6.0,
}  # fmt: skip
EVERY: Final = re.compile(
    rf"\b(?:q|every)\s*{NUMBER}\s*-?\s*(?:h|hrs?|hours?|hrly|hourly)\b"
    rf"|(?<![\d.]){NUMBER}[\s-]?(?:hou|h)rly\b|(?<![\d./]){NUMBER}\s*/\s*24\b(?!\s*h)"
)
TIMES: Final = re.compile(
    r"\b(once|twice|thrice|(?:one|two|three|four|five|six|\d)\s*(?:times|x|doses?))"
    r"\s*(?:(?:a|per|each|every|in)\b|/)?\s*(?:day|daily|24\s?(?:h|hours))\b"
    r"|\bin\s+((?:two|three|four|five|six|\d))\s+(?:divided |equal )?doses\b"
)
LATIN: Final = (
    (4.0, re.compile(r"\b(?:qds|qid|q\.d\.s\.?|q\.i\.d\.?)(?![a-z])")),
    (3.0, re.compile(r"\b(?:tds|tid|t\.d\.s\.?|t\.i\.d\.?)(?![a-z])")),
    (2.0, re.compile(r"\b(?:bds?|bid|b\.d\.?|b\.i\.d\.?)(?![a-z])")),
    (1.0, re.compile(r"\b(?:od|qd|o\.d\.?|daily|every day|each day|nightly|nocte|mane)(?![a-z])")),
    (1.0, re.compile(r"\b(?:stat|once(?: only)?|one[ -]off|(?:single|one|loading) dose)\b")),
)  # fmt: skip
RUNS: Final = re.compile(
    r"\bcontinuous(?:ly)?\b"
    r"|\b(?:units?|iu|m?c?g|ug|mg|microg\w*|nanog\w*)\s*(?:/\s*kg\s*)?(?:/|\bper\b|\ban\b)"
    r"\s*(?:h|hr|hour|min|minute)\b"
)
TOGETHER: Final = re.compile(rf"(?<![\d.]){NUMBER}\s*g\s*/\s*{NUMBER}\s*g\b")
DOSE: Final = re.compile(
    rf"(?<![\d.,])(?:(\d)\s*x\s*)?{NUMBER}\s*(mg|grams?|gm|g|mcg|micrograms?|microg|ug)\b"
    r"(\s*(?:/|per)\s*kg\b)?"
    r"(?!\s*(?:/|per)\s*(?:kg\s*(?:/|per)\s*)?(?:h|hrs?|hour|min|minute|ml|l|litre)\b)"
)
A_DAY: Final = re.compile(r"\s*(?:/|per)\s*(?:day|d|24\s?h\w*)\b")


@lru_cache(maxsize=4096)
def read_schedule(text: str) -> Schedule:
    """The times and the dose that a drug's words give."""
    plain = fold(text)
    doses = _doses_per_day(plain)
    dose_g, per_kg, is_daily = _dose(plain)
    if doses is None and is_daily:
        doses = 1.0
    elif doses is not None and is_daily and dose_g is not None:
        dose_g /= doses
    runs = bool(RUNS.search(plain)) and doses is None
    return Schedule(doses, runs or "continuous" in plain, dose_g, per_kg)


@lru_cache(maxsize=4096)
def cut_times(text: str) -> str:
    """The words without those that say how often, which are no length of an infusion."""
    plain = TIMES.sub(" ", EVERY.sub(" ", fold(text)))
    for _, pattern in LATIN:
        plain = pattern.sub(" ", plain)
    return " ".join(plain.split())


def _doses_per_day(plain: str) -> float | None:
    every = EVERY.search(plain)
    if every:
        hours = _number(next(filter(None, every.groups())))
        return HOURS_PER_DAY / hours if hours else None
    times = TIMES.search(plain)
    if times:
        first = (times[1] or times[2]).split()[0].rstrip("x")
        return COUNTS.get(first) or float(first) or None
    return next((doses for doses, pattern in LATIN if pattern.search(plain)), None)


def _dose(plain: str) -> tuple[float | None, bool, bool]:
    """Mass of the first dose written, g; whether for each kg; whether for the whole day."""
    both = TOGETHER.search(plain)
    if both:
        return _number(both[1]) + _number(both[2]), False, False
    match = DOSE.search(plain)
    if not match:
        return None, False, False
    count = float(match[1] or 1)
    is_daily = bool(A_DAY.match(plain, match.end()))
    return count * _number(match[2]) * MASS_G[match[3]], bool(match[4]), is_daily


def _number(written: str) -> float:
    return float(written.replace(",", ""))
