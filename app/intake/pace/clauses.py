"""What stands beside the figures: what was, what is aimed at, what follows, what is not given.

All take words in one spelling, as `spelling.plain` gives them.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

NUMBER: Final = r"\d+(?:\.\d+)?"
UNIT: Final = r"(?:\s*(?:mls?|cc|l)?(?:\s*/\s*(?:kg\s*/\s*)?(?:h|hrs?|hour|day|d)\b|\s+an hour)?)"
# Not a decimal point.
TO_CLAUSE_END: Final = r"(?:[^,;.()]|\.(?=\d))*"
THEN: Final = re.compile(
    r"[\s,;.]*\b(?:and then|then|followed by|thereafter|afterwards"
    r"|(?:reduc|increas|chang)(?:e|ing) (?:it )?to)\b\s*"
)
CONDITION: Final = re.compile(r"\b(?:if|unless|when|once|as tolerated|as able)\b")
LENGTH: Final = rf"{NUMBER}\s*(?:h|hrs?|hours?|min|mins|minutes)\b"
AFTER_HOURS: Final = re.compile(rf"\b(?:after|in)\s+({LENGTH})")
COMMA: Final = re.compile(r"[,;+]\s*")
BAG_AND_TIME: Final = re.compile(
    rf"\b(?:over|in)\s+(?:{LENGTH}|{NUMBER}\s*/\s*24)"
    rf"|{NUMBER}\s*(?:mls?|l|lit(?:re|er)s?)\s*/?\s*(?:{LENGTH}|{NUMBER}\s*/\s*24|{NUMBER}\s*hourly)"
)
OLD_FIGURE: Final = re.compile(
    rf"\bfrom\s+{NUMBER}{UNIT}\s+(?:to|newly)\s+(?={NUMBER})|{NUMBER}{UNIT}\s*newly\s+(?={NUMBER})"
)
HISTORY: Final = re.compile(
    r"\b(?:was|were|had|has had|have had|previously|previous|prev|prior|received|s/p|status post"
    r"|already (?:had|given|received)|post|after|following)\b"
    r"(?:(?!\b(?:now|currently|newly)\b)[^,;()])*(?:[,;)]|(?=\bnow\b|\bcurrently\b|\bnewly\b)|$)"
)
# What is hoped for, watched, or done only if something happens: no figure of the infusion.
ASIDE: Final = re.compile(
    r"\b(?:if|unless|aim\w*|target\w*|goal|maintain(?:ing)?|to achieve|until|till?|when"
    r"|while|whilst|once (?=[a-z])|max(?:imum)? (?!\d ?x)|limit\w*|restrict\w*"
    r"|(?:fluid )?restriction|re-?check|check|monitor\w*|review|reassess|weigh\w*|wt"
    r"|urine|uop?|cvp|map|sbp|bp|allerg\w*|not for|call|inform|titrat\w+ (?:up |down )?to"
    r"|(?:serum |plasma )?(?:na|k|sodium|potassium|glucose|bgl?s?|cbgs?|bms?|u ?(?:&|and) ?es?"
    r"|lytes|electrolytes|bloods?|labs?|[av]bgs?|gas(?:es)?|(?:neuro ?)?obs|vip(?: score)?"
    r"|re-?sited?|cannula|dressing)\b"
    r"(?= ?(?:\d{1,2} ?-?(?:hou|h)rly|q ?\d|every|each (?:shift|day)))"
    r"|repeat (?!x)|(?:pt|patient) on|hold (?:if|for)|stop (?:if|for|when)|up to)\b" + TO_CLAUSE_END
)
OTHER_RUNNING: Final = re.compile(r"(?<=[,;.])\s*(?:also )?on\b" + TO_CLAUSE_END)
BAG_OF: Final = re.compile(r"\b(?:bag|bottle|litre)\s*(?:no\.?|#)?\s*(\d)\s*(?:of|/)\s*(\d)\b")
BAG_NUMBER: Final = re.compile(
    r"\b(?:(\d)(?:st|nd|rd|th)|(first|second|third|fourth|fifth))\s+(?:bag|bottle|litre|l)\b"
    r"(?!\s+(?:finish|complet|done|ends|is|has|in|through|empt|up|runs))"
    r"|\b(?:bag|bottle)\s*(?:no\.?|#)?\s*(\d)\b(?!\s*(?:-|/|x|h|ml|l\b))"
)
AFTER_LAST: Final = re.compile(
    r"\bto follow(?: on)?\b|\b(?:next|following|subsequent) (?:bag|bottle|litre)\b"
    r"|\b(?:start|hang|run|give|commence|begin)?\s*(?:when|once|after|as soon as) "
    r"(?:the |that |this )?(?:first|1st|current|previous|above|last|bag|above|preceding)\b[^,;.]*"
)  # fmt: skip
ORDINALS: Final = ("first", "second", "third", "fourth", "fifth")
AS_NEEDED: Final = re.compile(r"\b(?:prn|(?:as|when|if) (?:needed|required)|sos)\b")
BY_LOSSES: Final = re.compile(
    r"(?:\d+(?:\.\d+)? ?)?(?<![a-z])(?:ml|cc)s? (?:for|per) (?:each |every |1 )?(?:ml|cc)\b"
    r"|\b1 ?: ?1\b|\blike for like\b"
)
NEVER_GIVEN: Final = re.compile(
    r"\b(?:not to be|do not|dont|never|not (?:yet )?)\s*(?:give|given|start|started|hang|hung|run"
    r"|running|infuse|infused)\b"
    r"(?!\s+(?:\w+ )?(?:with|via|if|until|till|by|faster|in|through|periph|over|as|more|together"
    r"|alongside|at|undiluted|before|after|when|than|potassium|kcl)\b)"
)
NO_LONGER: Final = re.compile(
    r"(?:^|[,;.(:-]\s*|\b(?:now|is|been|currently|order|infusion|fluids?|drip|ivf|ivi|rate)\s+"
    r"|/\s*h\w*\s+|\bhourly\s+|\d\s*m?l\s+|\ban hour\s+)"
    r"(on hold|held|withheld|stopped|ceased|discontinued|d/ce?d|dcd|cancelled|canceled|completed"
    r"|finished|suspended|paused|crossed (?:off|out)|taken down)\b"
    r"(?=\s*(?:$|[,;.():?-]|(?:at|on|by|yesterday|today|this|last|overnight|pending|until|till|due"
    r"|because|as|for|since|per|was|in|after|by|now)\b|\d))"
)
HOLD_ALONE: Final = re.compile(
    r"^\W*(?:hold(?: (?:until|till|pending|off|for now)\b.*)?|(?:turned |switched )?off)\W*$"
    r"|\bduplicate(?: order)?\b|\b(?:entered|prescribed|charted|ordered) in error\b"
)
# "On hold of antihypertensives" holds something else.
GOES_ON: Final = re.compile(
    r"\b(?:resum|restart|recommenc|continu|now (?:at |running (?:at )?)?\d|currently (?:at )?\d)"
)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a bag stands among several: its number where one is written, and whether it follows."""

    number: int = 0
    follows: bool = False


NO_PLACE: Final = Place()


def without_asides(said: str) -> str:
    """The words without what was, what is aimed at, and what depends on something."""
    said = HISTORY.sub(" , ", OLD_FIGURE.sub("", said))
    return OTHER_RUNNING.sub(" ", ASIDE.sub(" ", said))


def steps_of(said: str) -> list[str]:
    """The words parted where one thing is done and then another.

    What is done only if something happens is no step.
    """
    first, *later = [part for part in THEN.split(said) if part.strip(" ,;.")] or [""]
    steps = _listed(first)
    for part in later:
        if CONDITION.search(part):
            continue
        if after := AFTER_HOURS.search(part):
            steps[-1] += f" for {after[1]}"
        steps += _listed(AFTER_HOURS.sub(" ", part))
    return steps


def _listed(said: str) -> list[str]:
    """ "1 L over 1 h, 1 L over 2 h": a list of bags, each with its length, is a list of steps."""
    parts = [part for part in COMMA.split(said) if part.strip()]
    return parts if len(parts) > 1 and all(BAG_AND_TIME.search(p) for p in parts) else [said]


def place_of(said: str) -> Place:
    """Which of several bags this is, as written."""
    if of := BAG_OF.search(said):
        return Place(int(of[1]), int(of[1]) > 1)
    follows = bool(AFTER_LAST.search(said))
    if one := BAG_NUMBER.search(said):
        number = ORDINALS.index(one[2]) + 1 if one[2] else int(one[1] or one[3])
        return Place(number, follows or number > 1)
    return Place(0, follows)


@lru_cache(maxsize=4096)
def not_given(said: str) -> str:
    """The words that say that nothing of it runs or will; empty when none do."""
    if GOES_ON.search(said):
        return ""
    match = NEVER_GIVEN.search(said) or HOLD_ALONE.search(said)
    if match:
        return match[0].strip()
    match = NO_LONGER.search(said)
    return match[1] if match else ""
