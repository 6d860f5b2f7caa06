"""A fluid's name without the words that say how it runs."""

import re
from functools import lru_cache
from typing import Final

from app.intake.pace.spelling import THOUSANDS
from app.intake.pace.tokens import PINT_ML
from app.intake.vocabulary import fold

NUMBER: Final = r"(?<![\d./])(?:\d+(?:\.\d+)?|\.\d+)"
RANGE: Final = rf"{NUMBER}(?:\s*(?:-|to)\s*{NUMBER})?"
TIME: Final = r"(?:24\s?)?(?:h(?:ou?rs?|rs?)?|min(?:ute)?s?|days?|d(?!\s?\d))\b"
ML: Final = r"\s*(?:mls?|cc|millilit\w+|lit(?:re|er)s?|l|pints?)?"
PER: Final = r"\s*(?:/|per\b|\ban\b|\ba\b)\s*"
COUNT: Final = (
    r"(?:\d+(?:\.\d+)?|half(?: an?)?|an?|the next \w+|one|two|three|four|five|six|eight|ten|twelve)"
)
RUNS: Final = re.compile(
    r"[\s,;:(-]{0,12}(?:"
    rf"(?:\bat\b|@|\brate\b|\brun(?:ning)?\b)[\s:=]*(?:at\s*)?{RANGE}(?!\s*(?:%|mmol|meq|g\b|mg))"
    rf"(?:{ML}(?:{PER}kg)?{PER}{TIME})?"
    rf"|\bover\s+(?:the next\s+)?{COUNT}(?:\s*-\s*\d+)?\s*(?:1/2\s*)?"
    rf"(?:-?\s*{TIME}|/\s*(?:24|60)\b)?|\bovernight\b"
    rf"|{RANGE}{ML}(?:{PER}kg\b(?:{PER}{TIME})?|{PER}(?:\d+(?:\.\d+)?\s*)?{TIME})"
    rf"|{RANGE}\s*(?:mmols?|meqs?|mg|mcg|g|units?|iu)(?:{PER}kg)?{PER}(?:h(?:ou?rs?|rs?)?|min\w*)\b"
    rf"|{RANGE}[ -]?(?:hou|h)rly\b|{RANGE}\s*(?:mls?|cc)\s+hourly\b|\bq\s?\d+\s?(?:h\w*)?\b"
    rf"|\bevery\s+{COUNT}\s*{TIME}|{NUMBER}\s*/\s*(?:24|60)\b(?!\s*(?:h|ml|%))"
    rf"|{NUMBER}\s*(?:gtts?|drops?)\b|\bfor\s+{NUMBER}\s*{TIME}|{NUMBER}\s*(?:hours|hrs|hr|hour|h)\b"
    r"|\b(?:stat|bolus(?:es)?|push|ivp|t?kvo|tko|wide open|free flow|prn|as needed|as required"
    r"|titrat\w*|[tq]ds|[tbq]id|once(?: only)?|continuous(?:ly)?)\b"
    r"|\b(?:to )?keep (?:the )?(?:vein |line )?open\b"
    r"|\b(?:arterial|art|pressure|line)\s+(?:line\s+)?(?:flush|bag)\b|\bflush\b"
    r"|\b(?:iv )?for (?:resuscitation|maintenance|replacement)"
    r"|\bx\s?\d\b(?!\s*(?:mmol|g\b|mg))|(?<![\d.])\d\s*bags?\b|\bbag \d of \d\b"
    r"|\b\d(?:st|nd|rd|th) bag\b|,\s*\d{2,3}\s*(?=[,;]|$)|\bto follow\b"
    r"|\bnext bag\b|\bthen\b|\bfollowed by\b"
    r"|\b(?:start(?:ing)?|commence|until|till|from)\s+(?:at\s+)?"
    r"(?:\d{1,2}:\d\d|\d{4}\b(?!\s*ml)|\d{1,2}\s*[ap]m)"
    r"|\b(?:on hold|held|withheld|ceased|stopped|discontinued|cancelled|canceled"
    r"|not to be (?:given|started|run)|do not give)\b"
    r")"
)  # fmt: skip
UNITS_AND_VERBS: Final = re.compile(
    r"\b(?:mls?|cc|l|lit(?:re|er)s?|iv|ivi|ivf|inj|rx|the|please|give|run|infuse|start|commence|hang"
    r"|continue|of|a|in|bags?|fluids?|drip|pint|to|and|order(?:ed)?|rapid|infusion)\b"
)
WORDY: Final = re.compile(r"[a-z]{2,}|\bd\s?\d|\bk\s?\d|\d\s?k\b")
LEADING: Final = re.compile(r"^[\s,;:.-]*(?:of\b|iv\b|with\b)?[\s,:-]*")
LABEL: Final = re.compile(
    r"^(?:ivf|iv fluids?|fluids?|inj|rx|infusion|infuse|give|run|hang)\b\s*[:.-]?\s*"
)
PINTS: Final = re.compile(r"(?<![\d.])(\d(?:\.\d+)?)\s*pints?\b")
INTRAVENOUS: Final = re.compile(r"\bi\s?[./]\s?v\b\.?")
PATIENT: Final = re.compile(r"^(?:pt|patient)\b[^,;.]*[,;.]\s*")
LITRE: Final = re.compile(r"\b(?:a|one) (?=(?:litre|liter)\b)")
# Rates that may stand before a name; each is looked for in all that is left.
MOST_LEADING: Final = 12


@lru_cache(maxsize=4096)
def cut_rate_words(name: str) -> tuple[str, str]:
    """A fluid's name without the words of its rate, before or behind it, and those words."""
    rest, lead = PATIENT.sub("", INTRAVENOUS.sub("iv", fold(name))), ""
    for _ in range(MOST_LEADING):
        match = RUNS.search(rest)
        if match is None:
            break
        head = rest[: match.start()]
        if _names_something(head):
            return _tidy(head), f"{lead}{rest[match.start() :]}".strip()
        tail = rest[match.end() :]
        if not _names_something(tail):
            break
        lead += f"{rest[: match.end()]} , "
        rest = LEADING.sub("", tail)
    if lead:
        return _tidy(rest), lead.strip()
    tidy = _tidy(rest)
    return (name, "") if tidy == rest else (tidy, "")


def _names_something(words: str) -> bool:
    return bool(WORDY.search(UNITS_AND_VERBS.sub(" ", words)))


def _tidy(name: str) -> str:
    plain = THOUSANDS.sub(r"\1\2", LITRE.sub("1 ", LABEL.sub("", name))).strip()
    return PINTS.sub(lambda match: f"{float(match[1]) * PINT_ML:g} ml", plain)
