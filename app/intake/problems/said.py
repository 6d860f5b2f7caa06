"""What the words round a condition say of it: denied, over, another's, or only feared."""

import re
from dataclasses import dataclass
from typing import Final, Literal

Verdict = Literal["present", "denied", "over", "not said"]

# "no improvement in", "no change in": the condition is there.
NO_CHANGE: Final = re.compile(
    r"\b(?:no|not|without) (?:\w+ )?(?:improv\w+|change|response|responding|better|deterioration"
    r"|worsening|resolution|resolv\w+|settl\w+|urgent|only|just)\b"
)
DENIED: Final = re.compile(
    r"\b(?:no|not|without|denies|denied|denying|nil|never|neither|absence of|absent"
    r"|negative(?: for)?|ruled out|rules out|excluded|unlikely|none|free of|nor)\b"
    r"|\bnon$|\b(?:off|off the)$"
)
DENIED_AFTER: Final = re.compile(
    r"^(?:\w+ ){0,3}(?:excluded|ruled out|unlikely|denied|not present|not known|disproved)\b"
    r"|^(?:was |has been |now |is |both |all )?(?:= )?(?:no|nil|none|free|absent|negative|neg|nad"
    r"|not seen|not confirmed|not found)\b"
)
# "2 h ago" or "5 days ago" is a present injury, "2 weeks ago" is over.
SPAN: Final = r"(?:weeks?|wks?|months?|mths?|mo|years?|yrs?|y)"
OVER: Final = re.compile(
    r"\b(?:resolved|recovered|in remission|settled|previously|long ago|repaired|cured|healed"
    r"|scar\w*|in the past|normali[sz]ed|back to normal|survivor|childhood|history"
    r"|last (?:week|month|year|admission|pregnancy|delivery)|in (?:childhood|infancy)|better now"
    r"|as an? (?:child|baby|infant|kid|teen\w*|neonate|newborn|boy|girl)"
    r"|now (?:better|normal|well|over)|prev(?:ious)? (?:admissions?|episodes?)"
    r"|in (?:the |her |a )?(?:last|previous|prior|first|1st)$"
    rf"|{SPAN} (?:ago|back|previously)|(?:for|x) \d+ (?:years?|yrs?)|(?:[89]|\d\d+) days? ago"
    r"|\d+ / (?:12|52) ago)\b|^\d+ (?:years?|yrs?)\b"
    r"|^(?:has |have |now |been |was |fully |all )*(?:stopped|corrected|cleared|lifted"
    r"|discontinued|ended|stood down"
    r"|withdrawn)\b"
)
# A salt that was low or high and "treated" is so no longer; a disease under treatment is there.
SALTS: Final = ("hyper", "hypo")
TREATED: Final = re.compile(
    r"^(?:now |was |been |has )*(?:treated|replaced|corrected|supplemented)\b"
)
PAST: Final = re.compile(
    r"\b(?:history|h / o|ho|hx|previous|previously|prev|past|prior|old|remote|distant|former"
    r"|childhood|recovered|resolved|ex|pmh|pmhx|survived|survivor of"
    r"|last (?:week|month|year|admission|pregnancy|delivery))\b"
)
# "Ex-alcoholic", "alcohol excess, abstinent for 10 years".
NO_MORE: Final = re.compile(r"\b(?:ex|former)$")
ABSTINENT: Final = re.compile(r"^(?:now )?(?:abstinent|in recovery|sober)\b")
# A scan that sees it when it is there.
SCANNED: Final = frozenset(
    {"subarachnoid_haemorrhage", "intracranial_haemorrhage", "traumatic_brain_injury", "fracture",
     "pulmonary_embolism", "cerebral_oedema", "haemorrhage", "bowel_obstruction"}
)  # fmt: skip
SCAN_CLEAR: Final = re.compile(
    r"^(?:- )?(?:(?:ct|lp|mri|mra|cta|ctpa|scan|imaging|xray|x|ray|angiogram|head|brain|on|and|/"
    r"|\+) )+(?:negative|clear|excluded|normal|nad)\b"
)
UNTIL_YEAR: Final = re.compile(r"\b(?:until|till|up to|stopped(?: in)?) ((?:19|20)\d\d)\b")
YEAR: Final = re.compile(r"\b((?:19|20)\d\d)\b")
ANOTHERS: Final = re.compile(
    r"\b(?:family history|family hx|fam hx|fam history|fhx|fh|mother|father|brother|sister|mum|mom"
    r"|dad|husband|wife|partner|son|daughter|siblings?|uncle|aunt|cousin|grand\w+|parents?"
    r"|maternal|paternal|wifes|mothers|fathers)\b"
)
FEARED: Final = re.compile(
    r"\b(?:risk of|risk for|at risk|risks|allergy|allergies|allergic|intolerant|screen|screened"
    r"|screening|vaccine|vaccination|vaccinated|exclude|if|watch for|watching for|watch|monitor for"
    r"|monitoring for|observe for|observing for|look for|prevent\w*|avoid\w*|in case|in case of"
    r"|aim\w*|target\w*|prophylaxis against|prophylaxis for|instead of|rather than)\b"
)
# What follows makes it a test, a place or a fear: "sepsis screen", "stroke unit".
FEARED_AFTER: Final = re.compile(
    r"^(?:was |being )?(?:screen|screening|risk|prophylaxis|prevent\w*|avoided|averted"
    r"|vaccin\w+|leaflet|pathway not|test pending"
    r"|test awaited)\b"
)
PLACE_AFTER: Final = re.compile(r"^(?:unit|ward|outlier|bed|team|clinic)\b")
NAMES_OF_PLACES: Final = frozenset({"stroke", "burns"})
NOT_YET: Final = re.compile(
    r"\b(?:considering|considered|consider|planned|planning|may need|might need|discuss\w*"
    r"|refus\w+|declin\w+|candidate|workup|work up)\b"
    r"|\b(?:stopped|came off|come off|weaned off|off)(?: the)?$"
)
NOT_YET_AFTER: Final = re.compile(
    r"^(?:considered|planned|refused|declined|discussed|not needed|stopped|withdrawn|candidate)\b"
)


@dataclass(frozen=True, slots=True)
class Around:
    """The words round a phrase: all before it in its reach, just before, itself, just after.

    whole_before: all before it in the statement. in_list: it stands in a list that began with a
    denial. anothers: the statement is of the family. this_year: what a year is compared with.
    rest: all that follows it in its reach.
    """

    reach: str
    just_before: tuple[str, ...]
    itself: tuple[str, ...]
    after: str
    whole_before: str
    denied_list: bool = False
    anothers: bool = False
    this_year: int | None = None
    rest: str = ""

    @property
    def near(self) -> str:
        """The phrase with the words that stand next to it."""
        return " ".join((*self.just_before, *self.itself, self.after)).strip()


def verdict(key: str, around: Around, *, acute: bool, act: bool) -> Verdict:
    """What is said of a condition.

    acute: a past episode is not a present condition. act: it is something done to the patient,
    which may be planned or refused.
    """
    before = around.whole_before
    if around.anothers or ANOTHERS.search(before) or FEARED.search(before):
        return "not said"
    if FEARED_AFTER.search(around.after):
        return "not said"
    if key in NAMES_OF_PLACES and PLACE_AFTER.search(around.after):
        return "not said"
    if around.denied_list or is_denied(around):
        return "denied"
    if key in SCANNED and SCAN_CLEAR.search(around.after):
        return "denied"
    if act and (NOT_YET.search(around.reach) or NOT_YET_AFTER.search(around.after)):
        return "not said"
    if _no_more(around):
        return "over"
    return "over" if acute and _is_over(key, around) else "present"


def _no_more(around: Around) -> bool:
    """Said to have ended for good: "ex-", "abstinent", "on dialysis until 2019"."""
    if NO_MORE.search(around.reach) or ABSTINENT.search(around.after):
        return True
    until = UNTIL_YEAR.search(around.rest)
    return until is not None and _is_past(int(until[1]), around.this_year)


def is_denied(around: Around) -> bool:
    """True where the words before or after deny it."""
    return denies(around.reach) or bool(DENIED_AFTER.search(around.after))


def denies(text: str) -> bool:
    """True where words that stand before a condition deny it."""
    return bool(DENIED.search(NO_CHANGE.sub(" ", text)))


def is_of_others(text: str) -> bool:
    """True where words speak of the family, of what is feared, or of what is tested for."""
    return bool(ANOTHERS.search(text) or FEARED.search(text))


def _is_over(key: str, around: Around) -> bool:
    if key.startswith(SALTS) and TREATED.search(around.after):
        return True
    if PAST.search(around.reach) or OVER.search(around.after):
        return True
    years = YEAR.findall(f"{' '.join(around.just_before)} {around.after}")
    return any(_is_past(int(year), around.this_year) for year in years)


def _is_past(year: int, this_year: int | None) -> bool:
    return this_year is None or year < this_year
