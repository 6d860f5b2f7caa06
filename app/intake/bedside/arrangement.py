"""How the words say that two infusions share a line."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final, Literal, cast

from app.intake.vocabulary import fold
from app.patient.order import CoInfusion, Order

Arrangement = Literal["", "in turn", "separate", "together"]
IN_TURN: Final = re.compile(
    r"[,;(]?\s*(?:\bone after the other\b|\bin turn\b|\bsequential(?:ly)?\b|\balternat\w+\b"
    r"|\b(?:with|after|and)(?: a| an| the)?(?: (?:saline|ns|0\.9%|line))* flush(?:es|ed)?"
    r"(?: before| after| between| in between| and after)*\b"
    r"|\bflush(?:ed)? (?:before|between|after)\b(?: and after)?"
    r"|\bflush(?:ed|es)?\b[^;]{0,40}?\b(?:before|between|after)\b"
    r"(?: and after)?"
    r"|(?:\b[a-z .%0-9]*\b(?:stopped|paused|held|off|interrupted)\b[ ,;]*(?:and|then)?[ ,;]*)?"
    r"(?<!not )(?<!never )\b(?:(?:and|the|line|lumen|cannula|is|was) )*(?:flushed|flush given)\b"
    r"(?: (?:through|well|before|after|between|and after|with|saline|in|the))*"
    r"|\bbetween (?:the )?(?:flush(?:es)?|units?|bags?|doses?|transfusions?)\b"
    r"|\b(?:stopped|paused|interrupted|off|held) (?:for|during|while)\b[^,;]*"
    r"|\bone at a time\b|\bnot at the same time\b|\bnever together\b)\)?"
)
# "no flush before or after", "not flushed": the opposite of giving in turn.
NO_FLUSH: Final = re.compile(r"\b(?:no|not|never|without|omit\w*)\b[^,;.]{0,20}\bflush\w*[^,;.]*")
SEPARATE: Final = re.compile(
    r"[,;(]?\s*(?:\b(?:via|through|on|in|by)\s+)?(?:a |an |its |their )?"
    r"\b(?:own|separate|other|different|second|dedicated|another)"
    r" (?:iv )?(?:line|lumen|cannula|access|site|port|peripheral line|catheter)\b\)?"
)
TOGETHER: Final = re.compile(
    r"[,;(]?\s*(?:\b(?:via|through|at|by|as a|on)\s+)?(?:the |a )?"
    r"\b(?:y[- ]?site|piggy ?back(?:ed)?|same (?:line|lumen|bag|cannula)"
    r"|y connector|run together|running together|co[- ]?infused|simultaneous(?:ly)?)\b\)?"
)


def arrangement_of(text: str) -> Arrangement:
    """How the words say that two infusions share a line, "" when they do not."""
    plain = NO_FLUSH.sub(" ", fold(text))
    for said, pattern in (("separate", SEPARATE), ("in turn", IN_TURN), ("together", TOGETHER)):
        if pattern.search(plain):
            return cast(Arrangement, said)
    return ""


def without_arrangement(text: str) -> str:
    """A folded text without the words that say how a line is shared."""
    return TOGETHER.sub(" ", IN_TURN.sub(" ", SEPARATE.sub(" ", text)))


def arranged_by_orders(
    others: Iterable[CoInfusion], orders: Iterable[Order]
) -> Iterator[CoInfusion]:
    """The infusions, in turn where the only order of their lumen says so and names the drug."""
    told, every = tuple(others), tuple(orders)
    for other in told:
        beside = [order for order in every if order.lumen == other.lumen]
        crowd = sum(each.lumen == other.lumen for each in told)
        if other.arrangement or not other.key or len(beside) != 1 or crowd > 1:
            yield other
            continue
        words = f"{beside[0].text} {beside[0].written} {beside[0].purpose_written}".lower()
        named = other.key.replace("_", " ") in words
        in_turn = named and arrangement_of(words) == "in turn"
        yield replace(other, arrangement="in turn") if in_turn else other
