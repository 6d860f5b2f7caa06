"""The words of one step of an order, heard."""

import re
from typing import Final

from app.intake.pace.grammar import GRAMMAR, RANGE
from app.intake.pace.heard import Body, Heard, highest
from app.intake.pace.tokens import MINUTES_PER_HOUR, Line, line_of
from app.physiology.maintenance import maintenance_4_2_1_ml_h

# "125 mL/min" is more likely a slip for mL/h than meant, unless speed is in the words.
SLIP_FROM_ML_MIN: Final = 40.0
SPEED: Final = re.compile(
    r"\b(?:pressure|rapid|bleed|haemorrh|hemorrh|resus|bolus|stat|push|squeez)"
)
# By the 4-2-1 rule from an infant's weight on; newborns go by day of life.
SHARE_FROM_KG: Final = 3.5
SHARE: Final = re.compile(
    r"(?:\b(\d)\s*/\s*(\d)|\b(\d{2,3})\s*%|(?<![\d.])(\d(?:\.\d+)?)\s*(?:x|times)|\b(\d\.\d+)(?=\s+maint)"
    r"|\bx\s*(\d(?:\.\d+)?)|\b(full|half|2[- ]thirds))\s*(?:of )?(?:the |normal |full )*maint\w*"
)
SHARE_WORDS: Final = {"full": 1.0, "half": 0.5}
TWO_THIRDS: Final = 2 / 3
PERCENT: Final = 100
# "20 mL/kg over 20" is a bolus in minutes.
BY_KG_MINUTES: Final = (10.0, 15.0, 20.0, 30.0, 45.0, 60.0)
FEEDS: Final = re.compile(
    r"\b(?:minus|less|including|incl?|with|and|plus)\.?\s+(?:\w+\s+)?(?:feeds?|milk|oral|enteral)\b"
)
DOUBT: Final = re.compile(r"(?<=[NVHKLY/])\?+")
ALONE: Final = re.compile(rf"^[,w@FB]*({RANGE})[,w]*$")


def hear(said: str, body: Body) -> Heard:
    """The figures of one step, its words in one spelling and without asides."""
    heard = Heard()
    said = _hear_share(said, heard, body)
    if FEEDS.search(said):
        heard.asks.append("How much of it goes into the vein?")
    line = _without_doubts(line_of(said), heard, said)
    for pattern, take in GRAMMAR:
        for tokens in line.take(pattern):
            take(tokens, heard, body)
    if heard.by_kg and heard.bare_over in BY_KG_MINUTES:
        heard.durations.append(heard.bare_over / MINUTES_PER_HOUR)
    if not heard.volumes and heard.bare_volume is not None:
        heard.volumes.append(heard.bare_volume)
    _hear_bare(line, heard)
    _settle_drops(heard)
    _doubt_minutes(said, heard)
    return heard


def _doubt_minutes(said: str, heard: Heard) -> None:
    """A rate by the minute that is usual by the hour, with no word of speed."""
    by_minute = "/min" in said.replace(" ", "").replace("per", "/")
    fast = any(rate >= SLIP_FROM_ML_MIN * MINUTES_PER_HOUR for rate in heard.rates)
    if by_minute and fast and not SPEED.search(said):
        heard.asks.append("Is mL/min meant, or mL/h?")


def _without_doubts(line: Line, heard: Heard, said: str) -> Line:
    if not DOUBT.search(line.letters):
        return line
    heard.asks.append(f"“{said.strip()}” is written with a question mark: which rate is meant?")
    return Line([token for token in line.tokens if token.letter != "?"])


def _hear_share(said: str, heard: Heard, body: Body) -> str:
    """A share of maintenance, by the 4-2-1 rule."""
    match = SHARE.search(said)
    if not match:
        return said
    if body.weight_kg is None or body.weight_kg < SHARE_FROM_KG:
        heard.wants.append(f"How many mL/h is {match[0]}?")
        return said[: match.start()] + said[match.end() :]
    share = _share(*match.groups())
    rate = share * maintenance_4_2_1_ml_h(body.weight_kg)
    heard.rates.append(rate)
    heard.notes.append(f"{match[0]} is read as {rate:.3g} mL/h, by the 4-2-1 rule.")
    return said[: match.start()] + said[match.end() :]


def _share(  # noqa: PLR0913 - one for each way of writing it
    part: str | None,
    whole: str | None,
    percent: str | None,
    times: str | None,
    bare: str | None,
    by: str | None,
    word: str | None,
) -> float:
    if part and whole:
        return float(part) / max(float(whole), 1.0)
    if percent:
        return float(percent) / PERCENT
    return float(times or bare or by or SHARE_WORDS.get(word or "", TWO_THIRDS))


def _settle_drops(heard: Heard) -> None:
    if heard.drops_per_min is None:
        return
    if heard.drops_per_ml:
        heard.rates.append(heard.drops_per_min * MINUTES_PER_HOUR / heard.drops_per_ml)
    else:
        heard.wants.append(
            f"{heard.drops_per_min:g} drops/min: how many drops does the giving set give in 1 mL?"
        )


def _hear_bare(line: Line, heard: Heard) -> None:
    """A number, or a range, that stands alone in the whole text."""
    heard_any = heard.rates or heard.volumes or heard.durations or heard.dose_rates or heard.asks
    if heard_any or heard.bare is not None or heard.drops_per_min or heard.wants:
        return
    alone = ALONE.search(line.letters)
    if alone:
        heard.bare = highest(line.tokens[alone.start(1) : alone.end(1)], heard, "mL/h")
