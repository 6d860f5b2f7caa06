"""How the words say that two infusions share a line."""

import re
from typing import Final, Literal, cast

from app.intake.vocabulary import fold

Arrangement = Literal["", "in turn", "separate", "together"]
IN_TURN: Final = re.compile(
    r"[,;(]?\s*(?:\bone after the other\b|\bin turn\b|\bsequential(?:ly)?\b|\balternat\w+\b"
    r"|\b(?:with|after|and)(?: a| an| the)?(?: (?:saline|ns|0\.9%|line))* flush(?:es|ed)?"
    r"(?: before| after| between| in between| and after)*\b"
    r"|\bflush(?:ed)? (?:before|between|after)\b(?: and after)?"
    r"|(?:\b[a-z .%0-9]*\b(?:stopped|paused|held|off|interrupted)\b[ ,;]*(?:and|then)?[ ,;]*)?"
    r"(?<!not )(?<!never )\b(?:(?:and|the|line|lumen|cannula|is|was) )*(?:flushed|flush given)\b"
    r"(?: (?:through|well|before|after|between|and after|with|saline|in|the))*"
    r"|\bbetween (?:the )?(?:flush(?:es)?|units?|bags?|doses?|transfusions?)\b"
    r"|\b(?:stopped|paused|interrupted|off|held) (?:for|during|while)\b[^,;]*"
    r"|\bone at a time\b|\bnot at the same time\b|\bnever together\b)\)?"
)
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
    plain = fold(text)
    for said, pattern in (("separate", SEPARATE), ("in turn", IN_TURN), ("together", TOGETHER)):
        if pattern.search(plain):
            return cast(Arrangement, said)
    return ""


def without_arrangement(text: str) -> str:
    """A folded text without the words that say how a line is shared."""
    return TOGETHER.sub(" ", IN_TURN.sub(" ", SEPARATE.sub(" ", text)))
