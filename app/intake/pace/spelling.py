"""The words of a rate in one spelling: figures as digits, slips mended, set phrases as one word."""

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Final

from app.intake.vocabulary import fold

# "8°" is how a tired hand writes eight hours.
DEGREES: Final = str.maketrans({"°": " h ", "º": " h ", "˚": " h ", "→": " newly ", "\\": "/"})
NUMBER_WORDS: Final = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "sixteen": 16, "eighteen": 18,
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
HUNDRED: Final = 100
NUMBER_WORD: Final = re.compile(rf"\b({'|'.join(NUMBER_WORDS)})\b")
HUNDREDS: Final = re.compile(r"\b(?:(\d)|an?)\s+hundred(?:\s+(?:and\s+)?(\d{1,2}))?\b")
# The letter O in a figure: "1O0", "12O", "8O ml".
LETTER_O: Final = re.compile(r"\b\d[\do]*o[\do]*(?=\b|ml|cc)")
SHORTEST_FIGURE: Final = 3
LETTER_L: Final = re.compile(r"\bl(?=\d\d\s*(?:mls?|cc)\b)")
THOUSANDS: Final = re.compile(r"(?<![\d.,])(\d{1,3}),(\d{3})(?![\d,])")
SPACED_THOUSANDS: Final = re.compile(r"(?<![\d.,/])(\d) (\d{3})(?=\s*(?:mls?|cc)\b)")
DECIMAL_COMMA: Final = re.compile(r"(?<=\d),(?=\d{1,2}\s*(?:mls?|cc|l|h|hrs?|hours?|/)\b)")
PHRASES: Final[tuple[tuple[re.Pattern[str], str], ...]] = tuple(
    (re.compile(pattern), plain)
    for pattern, plain in (
        (r"\b([kt])\.\s?([vk])\.\s?o\b\.?", r"\1\2o"),
        (r"\b(p)\.\s?(r)\.\s?n\b\.?", "prn"),
        (r"\b([ap])\.\s?m\b\.?", r"\1m"),
        (r"\b(?:to )?keep (?:the )?(?:iv |vein |line |cannula )?(?:open|patent)\b", "kvo"),
        (r"\b(?:tkvo|tko|t\.?k\.?v\.?o|(?:for |line )+patency)\b", "kvo"),
        (r"(\d)\s+(?:and )?(?:a half|1/2)(?=\s*(?:h|hr|hour|litre|liter|l)s?\b)", r"\1.5"),
        (r"\b(?:an hour and a half)\b", "1.5 h"),
        (r"\b(?:half (?:an )?hour|1/2\s*(?:h|hr|an hour|hour))\b", "30 min"),
        (r"\b(?:quarter of an hour)\b", "15 min"),
        (r"\b(?:half (?:a )?(?:litre|liter|l)|1/2\s*(?:a )?(?:litre|liter|l))\b", "500 ml"),
        (r"\ba (litre|liter|pint)\b", r"1 \1"),
        (r"(?<!\S)\?+(?=[a-z])", ""),
        (r"(?<=\d)\s?'(?!\w)", " min"),
        (r"(?<=\d)\s?ish\b", ""),
        (r"(?<=\d)\s?m(?=\s?/\s?h)", " ml"),
        (r"(?<=ml/)(?:jr|gr|ht|he|hf|hrt|hre|rh|hhr)\b", "h"),
        (r"\b4\s*[-/]\s*2\s*[-/]\s*1\b(?: rule)?(?: maint\w*)?", "full maintenance"),
        (r"\b4 ?mls?/kg/h\w* (?:for )?(?:the )?(?:1st|first) 10 ?kg\b.*", "full maintenance"),
        (r"\bdpm\b", "drops/min"),
        (r"(\d)\s*(?:gtts?|drops?)\s+(?:factor|(?:giving )?set)\b", r"\1 drops/ml"),
        (r"\b(?:drop|gtt) factor\s*(?:of|is|:|=)?\s*(\d+)\b", r"\1 drops/ml"),
        (r"\b(?:microdrops?|micro ?gtts?|ugtts?|mcgtts?|minidrops?)\b", "microdrop"),
        (r"(?<![a-z])mls?\s*(?:\.|\*)\s*h", "ml/h"),
        (r"(?<=[a-z])\s*(?:/|\.|\s)\s*h(?:r|our)?\s?-1\b", "/h"),
        (r"(?<![a-z])(ml|cc)s?\s*p\.?\s*/?h\b", r"\1/h"),
        (r"(?<![a-z])mlhr?\b", "ml/h"),
        (r"/\s*m\s?\^?2\b", "/sqm"),
        (r"\bper m(?:2| ?sq\w*)\b", "/sqm"),
        (r"(?:-|=)+>", " newly "),
    )
)  # fmt: skip


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """A text about a rate in one spelling; cost grows with its length."""
    said = fold(text.translate(DEGREES))
    said = LETTER_O.sub(_as_digits, said)
    said = LETTER_L.sub("1", said)
    said = SPACED_THOUSANDS.sub(r"\1\2", THOUSANDS.sub(r"\1\2", said))
    said = DECIMAL_COMMA.sub(".", said)
    for pattern, one in PHRASES:
        said = pattern.sub(one, said)
    said = NUMBER_WORD.sub(_digits_of, said)
    return HUNDREDS.sub(_hundreds, said)


def _as_digits(match: re.Match[str]) -> str:
    figure = match[0]
    cut = match.string[match.end() :].lstrip()
    sure = len(figure) >= SHORTEST_FIGURE or cut.startswith(("ml", "cc", "/"))
    return figure.replace("o", "0") if sure else figure


_digits_of: Callable[[re.Match[str]], str] = lambda match: str(NUMBER_WORDS[match[1]])  # noqa: E731


def _hundreds(match: re.Match[str]) -> str:
    return str(int(match[1] or 1) * HUNDRED + int(match[2] or 0))
