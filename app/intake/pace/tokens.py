"""Words of a rate as tokens, each of a class, so that grammar is a pattern over the classes.

Classes, a letter each: N number, V unit of volume, H unit of time, Y "hourly", D "daily", L a
length written whole (8/24, 30/60), / per, a "an" or "a", K kilogram, S square metre, O over,
F for, Q every, @ at, X times, B bag, G drop, M unit of a drug, P percent, R range, r or,
T times a day, ? doubt, a comma, w any other word, _ used up.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from app.intake.slips.near import Choices

HOURS_PER_DAY: Final = 24.0
MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0
# In wards that speak of pints a bag of 500 mL is meant (common practice, no source).
PINT_ML: Final = 500.0
ML: Final = dict.fromkeys(
    ("ml", "mls", "cc", "ccs", "millilitre", "millilitres", "milliliter", "milliliters"), 1.0
)
LITRES: Final = dict.fromkeys(
    ("l", "litre", "liter", "litres", "liters", "ltr", "ltrs", "lt", "lit"), ML_PER_L
)
PINTS: Final = dict.fromkeys(("pint", "pints"), PINT_ML)
HOURS: Final = dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "hou", "hrr", "hors", "hs"), 1.0)
MINUTES: Final = dict.fromkeys(("min", "mins", "minute", "minutes", "mts"), 1 / MINUTES_PER_HOUR)
DAYS: Final = dict.fromkeys(("d", "day", "days"), HOURS_PER_DAY)
# Lengths as a share of the day, the hour or the week: 8/24, 30/60, 2/7.
LONGEST_SHARE: Final = 120.0
SHARES: Final = {24.0: 1.0, 60.0: 1 / MINUTES_PER_HOUR, 7.0: HOURS_PER_DAY}
CLASSES: Final[dict[str, tuple[str, ...]]] = {
    "Y": ("hourly", "hrly", "hly"),
    "D": ("daily", "od"),
    "/": ("/", "per"),
    "a": ("an", "a", "and", "each"),
    "K": ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"),
    "S": ("sqm",),
    "O": ("over", "in", "within", "during"),
    "F": ("for",),
    "Q": ("q", "every"),
    "@": ("at", "@", "rate", "run", "runs", "running"),
    "X": ("x", "times", "*"),
    "B": ("bag", "bags", "bottle", "bottles"),
    "G": ("drop", "drops", "gtt", "gtts", "microdrop", "macrodrops"),
    "M": ("mmol", "mmols", "meq", "meqs", "g", "gm", "grams", "gram", "mg", "mcg", "ug", "unit",
          "units", "iu", "u", "mosm", "micrograms", "nanograms"),
    "P": ("%", "percent"),
    "R": ("-", "to"),
    "r": ("or",),
    "?": ("?",),
    ",": (",", ";", "(", ")", ".", "+"),
}  # fmt: skip
TIMES_A_DAY: Final = {"bd": 2.0, "bid": 2.0, "tds": 3.0, "tid": 3.0, "qds": 4.0, "qid": 4.0}
# Words that part what belongs together and say nothing of the rate.
FILLERS: Final = frozenset(
    ("the", "next", "of", "iv", "ivi", "ivf", "infuse", "infusion", "give", "given", "please",
     "approx", "approximately", "about", "around", "roughly", "~", ":", "=", "via", "pump", "only",
     "then", "continuous", "continuously", "cont", "slow", "slowly", "period", "flow", "volume",
     "between", "now", "is", "set", "by")
)  # fmt: skip
KNOWN: Final[dict[str, tuple[str, float]]] = {
    **{word: (letter, 1.0) for letter, words in CLASSES.items() for word in words},
    **{word: ("V", value) for word, value in (ML | LITRES | PINTS).items()},
    **{word: ("H", value) for word, value in (HOURS | MINUTES | DAYS).items()},
    **{word: ("T", value) for word, value in TIMES_A_DAY.items()},
}  # fmt: skip
# Words long enough that one slip of the pen leaves no doubt of them.
SLIPS: Final = Choices(("hours", "hourly", "minutes", "litre", "litres", "every", "daily", "drops"))
SHORTEST_SLIP: Final = 5
RANGE_SIGN: Final = re.compile(r"(?<=[NV])(R)(?=N)")
# "D5", "D10W" name a fluid and no day.
DEXTROSE: Final = re.compile(r"(?<![a-z/])(?<!/ )d(?=\s?\d)")
TOKEN: Final = re.compile(r"\d+(?:\.\d+)?|\.\d+|[a-z]+|[^\sa-z\d]")


@dataclass(frozen=True, slots=True)
class Token:
    """One word: its class, as written, and the number or factor it stands for."""

    letter: str
    written: str
    value: float = 1.0


@dataclass(slots=True)
class Line:
    """A text as tokens, of which patterns take one stretch after another."""

    tokens: list[Token]
    letters: str = field(init=False)

    def __post_init__(self) -> None:
        self.letters = "".join(token.letter for token in self.tokens)

    def take(self, pattern: re.Pattern[str]) -> Iterator[list[Token]]:
        """The tokens of each match from left to right; they are used up."""
        at = 0
        while match := pattern.search(self.letters, at):
            start, at = match.span()
            self.letters = self.letters[:start] + "_" * (at - start) + self.letters[at:]
            yield self.tokens[start:at]

    def written(self) -> str:
        """What nothing has used, as written."""
        return " ".join(t.written for t, at in zip(self.tokens, self.letters, strict=True)
                        if at not in "_,")  # fmt: skip


def line_of(said: str) -> Line:
    """A text in one spelling as tokens, without words that only fill."""
    words = TOKEN.findall(DEXTROSE.sub("dex ", said))
    tokens = [_token(word) for word in words if word not in FILLERS]
    return Line(list(_shares(_without_hyphens(tokens))))


def _token(word: str) -> Token:
    if word[0].isdecimal() or (word[0] == "." and len(word) > 1):
        return Token("N", word, float(word))
    known = KNOWN.get(word) or KNOWN.get(_slip_of(word))
    letter, value = known or ("w", 1.0)
    return Token(letter, word, value)


def _without_hyphens(tokens: list[Token]) -> list[Token]:
    """A dash is a range only between figures: "8-hourly" is one word."""
    letters = "".join(token.letter for token in tokens)
    ranges = {match.start(1) for match in RANGE_SIGN.finditer(letters)}
    return [t for at, t in enumerate(tokens) if t.letter != "R" or at in ranges]


def _slip_of(word: str) -> str:
    """The one known word that a long word is a single slip away from; empty when there is none."""
    if len(word) < SHORTEST_SLIP:
        return ""
    near = SLIPS.closest(word, 1)
    return near[0] if len(near) == 1 else ""


def _shares(tokens: list[Token]) -> Iterator[Token]:
    """Tokens with "8/24" as one length; "8/24 h" stays what it says."""
    at = 0
    while at < len(tokens):
        part = tokens[at : at + 3]
        is_share = "".join(t.letter for t in part) == "N/N" and part[2].value in SHARES
        followed = at + 3 < len(tokens) and tokens[at + 3].letter in "VHKN/%"
        if is_share and not followed and part[0].value <= LONGEST_SHARE:
            yield Token(
                "L", "".join(t.written for t in part), part[0].value * SHARES[part[2].value]
            )
            at += 3
        else:
            yield tokens[at]
            at += 1
