"""An operation in a problem list, and whether it is recent."""

import re
from typing import Final

# A wound, a drain or a stoma drives vasopressin for about so long (common practice, no source).
RECENT_DAYS: Final = 3
RECENT_HOURS: Final = 72
NAMED: Final = (
    r"(?!(?:phlebo|viro|endoto)\w*)(?:[a-z]+(?:ectomy|otomy|plasty|pexy|rrhaphy|odesis)"
    r"|surgery|operation|operated|resected|excised|debulked|evacuated|(?:caesarean|cesarean|c"
    r"|lower segment) section|caesarean|cesarean"
    r"|lscs|cabg|orif|dhs|thr|tkr|tha|tka|turp|turbt|evar|tavi|erpc|whipples?|hartmanns procedure"
    r"|(?:hernia|aneurysm|aaa|valve|fistula|fracture|tendon|mitral|aortic) repair"
    r"|(?:hip|knee|valve|shoulder|joint|aortic valve|mitral valve) replacement"
    r"|(?:hip|femoral|fracture|internal|spinal) fixation|(?:femoral|tibial) nail(?:ing)?|hemi"
    r"|(?:bowel|anterior|liver|lung|colonic|small bowel|gastric|tumou?r|prostate) resection"
    r"|(?:spinal|lumbar|scoliosis) (?:fusion|correction)|laparoscopy|amputation|debridement"
    r"|skin graft(?:ing)?|(?:liver|kidney|renal|heart|lung) transplant(?:ation)?|fundoplication"
    r"|bypass (?:surgery|graft)|(?:stoma|ileostomy|colostomy) (?:formation|closure|reversal)"
    r"|lap(?:aroscopic)? (?:appy|appendix|chole|hyster|sleeve)|appy|chole"
    r"|nissens?|ramstedts?|switch|norwood|sleeve|washout of (?:joint|knee|hip)|drainage of abscess)"
)
OPERATION: Final = re.compile(rf"\b{NAMED}\b")
WHAT_SORT: Final = r"(?:[a-z]+ ){0,4}"
AFTER: Final = re.compile(
    rf"\b(?:post|after|following|since|returned from|back from|recovering from|fresh from"
    rf"|immediately after|out of theatre after) (?:operative |op |an? |the |his |her )?"
    rf"{WHAT_SORT}{NAMED}\b"
)
STILL_TO_COME: Final = re.compile(
    r"\b(?:awaiting|planned|plan|scheduled|listed|booked|due|tomorrow|pre|before|prior to|elective"
    r"|consent\w*|going|needs|considered|considering|prep|list|refused|declined|cancelled)\b"
    rf"|\bfor {WHAT_SORT}{NAMED}"
)
LONG_AGO: Final = re.compile(
    r"\b(?:weeks?|wks?|months?|mths?|years?|yrs?|childhood|remote|old|previous(?:ly)?|history"
    r"|past|prior|h / o|hx|pmh|psh|(?:19|20)\d\d|long ago|\d+ / (?:52|12))\b"
)
JUST_NOW: Final = re.compile(
    r"\b(?:yesterday|today|tonight|this (?:morning|afternoon|evening)|last (?:night|evening)"
    r"|overnight|day of|earlier|hours ago)\b"
)
NUMBER_WORDS: Final = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "ten": 10,
    "first": 1, "second": 2, "third": 3, "1st": 1, "2nd": 2, "3rd": 3,
}  # fmt: skip
COUNT: Final = rf"(\d+(?:\.\d+)?|{'|'.join(NUMBER_WORDS)})"
DAYS: Final = re.compile(rf"\b(?:pod|days?|d) {COUNT}\b|\b{COUNT}(?:st|nd|rd|th)? (?:days?|d)\b")
HOURS: Final = re.compile(rf"\b{COUNT} (?:hours?|hrs?|h)\b")
DENIED: Final = re.compile(r"\b(?:no|not|without|never|nil|denies)\b")


def names_operation(text: str) -> bool:
    """True when words name an operation. text: folded, single spaces, no punctuation."""
    return bool(OPERATION.search(text))


def is_recent_operation(text: str) -> bool:
    """True for an operation of the last 72 h, by a day, an hour, "yesterday" or "after".

    One that is weeks old, still to come, or without any word of when, is not.
    """
    match = OPERATION.search(text)
    if not match or DENIED.search(text[: match.start()]):
        return False
    day, hour = DAYS.search(text), HOURS.search(text)
    if day:
        return _count(day) <= RECENT_DAYS
    if LONG_AGO.search(text):
        return False
    if hour and not STILL_TO_COME.search(text):
        return _count(hour) <= RECENT_HOURS
    if AFTER.search(text):
        return True
    return bool(JUST_NOW.search(text)) and not STILL_TO_COME.search(text)


def _count(match: re.Match[str]) -> float:
    written = next(filter(None, match.groups()))
    return NUMBER_WORDS.get(written) or float(written)
