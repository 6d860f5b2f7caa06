"""What an order's words say of things that are not in its bag: denied, past, replaced, measured."""

import re
from functools import lru_cache
from typing import Final

from app.intake.vocabulary import fold

# A clause ends at a sign or where the next thing to do begins; the point in "0.9%" ends none.
REST: Final = r"(?:(?![,;()]|\.(?!\d)|\s-\s|\b(?:then|and start|start|give|use|commence)\b).)*"
# Words without a figure, so that neither a rate nor the next dose is taken with them.
FEW: Final = r"(?:[\s/-]*[a-z+]+(?![a-z+]|[1-9]))"
STAYS: Final = r"(?!\s*(?:at|over|for|with|c|@|then|until|till|while|in)\b)"
ION: Final = (
    r"(?:k\+?|kcl|potassium|calcium|ca|salt|sodium|na|electrolyte|glucose|dextrose|lactate)"
)
NEXT_CLAUSE: Final = r"(?:(?<=[,;(])|(?<=\.\s)|(?<=\s-\s))"
UNMEANT: Final[tuple[re.Pattern[str], ...]] = tuple(
    re.compile(pattern)
    for pattern in (
        # "K-free", "free of potassium", "no KCl added", "without potassium", "nil additives"
        rf"\b{ION}[- ]free\b|\bfree of {ION}\b",
        rf"(?<!\w)(?:no|without|w/o|nil|nor|s/)(?=[\s-]){STAYS}(?:{STAYS}{FEW}){{1,4}}",
        # What is told to be left: not Hartmann's, avoid 5% dextrose, stop the saline, hold KCl.
        rf"\b(?:not|never|avoid(?:ing)?|stop(?:ping)?|discontinue|d/c|dc|cease|hold|withhold|omit"
        rf"|allerg(?:y|ic))\b{REST}",
        rf"\b(?:instead of|rather than|in place of|in lieu of|replac(?:es|ing)|unlike|followed by"
        rf"|alternative to)\b{REST}",
        # "change from A to B" and "swap A for B" leave B.
        r"\b(?:chang|switch|convert)(?:e|ed|ing)?\b(?:\s+over)?(?:\s+from)?\s+[^,;()]*?\s+"
        r"(?:on)?to\s+(?=\S)",
        r"\b(?:swap|exchange|replace|substitute)\s+[^,;()]*?\s+(?:for|with|by)\s+(?=\S)",
        # "KCl discontinued", "insulin stopped" stand in a clause of their own.
        rf"{NEXT_CLAUSE}[^,;()]*\b(?:stopped|discontinued|held|on hold|ceased"
        r"|suspended|finished|completed|given (?:already|earlier|yesterday|today|this morning))\b"
        r"[^,;()]*",
        # What was before.
        rf"\b(?:prev(?:ious(?:ly)?)?|prior|earlier|last(?! \d)|yesterdays?|already|was on|had|h/o"
        rf"|history of|s/p|status post|received|after)\b{REST}",
        # Results and targets: "target K 4-5", "K 3.1", "Na 158 today".
        rf"\b(?:target|aim(?:ing)?|goal|keep(?:ing)?|to keep|maintain(?:ing)?|once)"
        rf"\b{REST}",
        # A condition: what stands in a clause of its own is not in the bag now.
        rf"{NEXT_CLAUSE}[^,;()]*\b(?:if|when|unless|until|till)\b[^,;()]*",
        r"\b(?:k\+?|potassium)\s*(?:is|of|was|now|=|:|<|>)?\s*\d\.\d\b(?!\s*(?:g|%))"
        r"(?:\s*(?:mmol|meq)/?l?)?",
        r"\b(?:na\+?|sodium)\s*(?:is|of|was|now|=|:|<|>)?\s*1[0-9]\d\b(?!\s*(?:mmol|meq|ml|mg|g|%))",
    )
)  # fmt: skip


# One look tells that most names hold nothing of the kind.
PERHAPS: Final = re.compile(
    r"\b(?:no|without|w/o|nil|nor|not|never|avoid|stop|disc|d/c|dc|ceas|hold|held|withh|omit|allerg"
    r"|instead|rather|in place|in lieu|replac|unlike|follow|alternative|chang|switch|convert|swap"
    r"|exchange|substitut|on hold|suspend|finish|complet|given|prev|prior|earlier|last|yesterday"
    r"|already|was|had|h/o|history|s/p|status|received|after|target|aim|goal|keep|to keep|maintain"
    r"|once|if|when|unless|until|till)|s/|\bfree of|[- ]free\b"
    r"|\b(?:k|potassium|na|sodium)\b\W*(?:is|of|was|now)?\W*\d"
)
# "0.9% w/v": every strength is.
BY_WEIGHT: Final = re.compile(r"%\s*\(?\s*w\s*/\s*[vw]\s*\)?")
# "Isotonic 1.26% bicarbonate": the strength says it.
SAID_BY_STRENGTH: Final = re.compile(r"\bisotonic\s+(?=(?:[a-z]+\s+){0,3}\d+(?:\.\d+)?\s*%)")
BY_TUBE: Final = re.compile(
    r"\b(?:via|by|per|through|down|into)\s+(?:the\s+|an?\s+)?(?:ngt?|njt?|ogt?|peg|rig"
    r"|feeding tube|nasogastric|tube)\b|\b(?:po|orally|enteral(?:ly)?)\b|(?<!nil )\bby mouth\b"
)
FIRST_CLAUSE: Final = re.compile(r"^(?:[^,;.()]|\.(?=\d))*")


@lru_cache(maxsize=4096)
def by_tube(text: str) -> bool:
    """True for what is said to be drunk or given by a tube, in the words' first clause."""
    first = FIRST_CLAUSE.match(fold(text))
    return bool(first and BY_TUBE.search(first[0]))


@lru_cache(maxsize=4096)
def meant(text: str) -> str:
    """An order's words without what is denied, past, replaced by it, or a result.

    The text as it came where nothing of the kind is in it, or where nothing else would be left.
    """
    left = plain = SAID_BY_STRENGTH.sub("", BY_WEIGHT.sub("% ", fold(text)))
    for pattern in UNMEANT if PERHAPS.search(plain) else ():
        left = pattern.sub(" ", left)
    same = left == plain == fold(text)
    return text if same or not re.search(r"[a-z]", left) else left.strip(" ,;-")
