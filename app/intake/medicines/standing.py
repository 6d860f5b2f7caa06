"""What a clause about a drug says of how it stands: held, stopped, to come, denied, by mouth."""

import re
from dataclasses import dataclass
from typing import Final

from app.patient.order import Stands

AGAIN: Final = re.compile(
    r"\b(?:re-?started|resumed|re-?commenced|reinstated|back on|still (?:on|running|going)"
    r"|continu(?:e|es|ed|ing)|ongoing|now (?:running|at|\d[\d.]*)|(?<!not )running|in progress"
    r"|not (?:been )?(?:stopped|held|withheld|paused|discontinued|suspended))\b"
)
BEGUN: Final = re.compile(
    r"\b(?:started|since|commenced|begun|began|from|(?:in|de)creased|reduced|doubled|halved|changed"
    r"|added|up-?titrated|charted|prescribed|taken|levels?|checked|measured|adjusted)\b[^,;]*?"
    r"\b(?:ago|yesterday|overnight|last (?:week|month|year))\b"
)
LATER: Final = re.compile(
    r"\bnot (?:yet )?(?:started|begun|up|commenced|hung|connected)\b|\bnot yet\b|\byet to\b"
    r"|\bto (?:be )?(?:start(?:ed)?|commenced?|begin|given (?:tomorrow|later|tonight))\b"
    r"(?! (?:at )?\d)"
    r"|\b(?:starts?|starting|due to start|commences?|commencing)\s+(?:tomorrow|tonight|later|after"
    r"|when|once|at \d\d:?\d\d\b(?! ?m?l))|(?<!until )\b(?:tomorrow|later today|for later)\b"
    r"|\bawait\w+ (?:supply|pharmacy|start|line|access|central|delivery|stock|collection)\b"
    r"|\bstand-? ?by\b|\bin reserve\b|\bto follow\b|\bconsider\w*\b|\bplanned\b"
    r"|\b(?:if|unless)\b(?! (?:needed|required|necessary|possible|able|tolerated))"
    r"|\bwhen (?:the )?(?:k\+?|na|hb|map|bp|bm) ?[<>=\d]"
    r"|\bfor (?:k\+?|potassium|hb|bm|glucose) ?(?:<|>|=<|under|below|above|over|less)"
)
# "stop if", "titrate when": what to do with an infusion that runs.
STEERED: Final = re.compile(
    r"\b(?:stop|hold|titrat\w*|increase|decrease|reduce|call|repeat|continue|wean|adjust|restart"
    r"|change|aim|target|escalat\w*|inform|flush|pause|up|down|tell|bleep|page)\b.*"
)
BLOOD_LATER: Final = re.compile(
    r"(?<!as )\bordered\b|\bavailable\b|\bin (?:the )?(?:fridge|(?:blood )?bank|lab)\b"
    r"|\bfrom (?:the )?(?:blood )?bank\b|\bgroup (?:and|&) (?:save|screen)\b|\bg ?& ?s\b"
    r"|\b(?:x|cross)[- ]?match(?:ed)?\b(?! (?:red|blood|p?rbcs?|rcc|packed|cells|units?|platelets))"
    r"|\bon hold\b|\breserved\b|\bfor transfusion\b|\bawait\w+|\bpending\b|\brequested\b|\bbooked\b"
    r"|\bon (?:the|its) way\b|\ben route\b|\bto come\b|\bcoming\b"
)
FLOWS: Final = re.compile(r"\bml ?/ ?h|\bover \d|@ ?\d|\bin progress|\brunning\b|\bnow\b|\bunit \d")
DENIED: Final = re.compile(
    r"\b(?:no(?! longer)(?! [a-z]* ?flush)(?! changes?\b| problem| issue| increase| bolus)|not on"
    r"|not taking|not for|never|nil|without|denies|avoid(?:ing)?|instead of|nor"
    r"|stop(?! if| when| after| for| date| on| at))\b"
)
# Said of the drug in the same clause; alone it may be of anything.
UNFIT: Final = re.compile(
    r"\b(?:(?:known |drug |medication )*allerg\w*(?: to)?|intoleran\w*|adr|anaphyla\w*"
    r"|contra-?indicated|sensitivit\w+|family history|(?:mother|father|wife|husband|sister|brother"
    r"|partner)s?(?: is| was)? (?:takes|taking|on|has|had))\b"
)
REFUSED: Final = re.compile(
    r"\bnot (?:to be )?(?:given|taken|needed|required|indicated|prescribed)\b|\brefused\b"
    r"|\bdeclined\b|\bno longer needed\b|\bcancell?ed\b|:\s*(?:none|nil|no|n/a)\s*$"
    r"|\bno (?:[a-z]+ ){0,2}(?:needed|required|running|going|up|given)\b"
)
ENDED: Final = re.compile(
    r"\b(?:held|on hold|hold(?:ing)?(?! if| when| for)|withh(?:eld|olding|old)|stopp(?:ed|ing)"
    r"|discontinu\w+|dcd|d/c(?:d|ed)?|d/cd|ceased|completed|finished|done|suspended|paused|omitt(?:ed|ing)"
    r"|no longer|not running|taken down|disconnected"
    r"|(?:weaned|switched|turned|came|taken|now|is|was|currently) off"
    r"|off(?= (?:since|at|now|for|overnight|as|today|yesterday)\b|\s*$))(?![\w/])"
)
# What is to come: "to be stopped at 18:00".
TO_END: Final = re.compile(
    r"\b(?:to|will|can|should|may|until|till|when|once|if) (?:be )?(?:[a-z]+ )?"
    r"(?:stopp?(?:ed)?|held|discontinued?|ceased?|complete[d]?|finish(?:ed)?|done|off)\b.*"
)
# A dose that was given, where no next one is written.
GIVEN: Final = re.compile(
    r"\bgiven(?= (?:at \d|already|yesterday|this morning|earlier|today|stat|in (?:ed|a&e|community"
    r"|ambulance|theatre|recovery|resus))|\s*$)"
)
TIMES: Final = re.compile(r"\b(?:bd|tds|qds|od|bid|tid|qid|daily|next|due|q ?\d+|\d+ ?-?h\w*rly)\b")
PAST: Final = re.compile(
    r"\bprevious(?:ly)?\b|\bformerly\b|\bused to\b|\bwas (?:on|taking)\b"
    r"|\blast (?:week|month|year)\b|\buntil (?:yesterday|last|admission)\b|\bpre-?admission\b"
    r"|\bbefore admission\b|\byesterday\b|\b\d+ ?(?:d|days?|wks?|weeks?|months?|years?|yrs?) ago\b"
)
ELSEWHERE: Final = re.compile(
    r"\b(?:po|p/o|oral(?:ly)?(?! (?:fluids?|intake|feeds?|diet|hygiene|care))|by mouth|tabs?"
    r"|tablets?|caps|capsules?|m/r|(?<!\d )ng(?! ?[/.\d])|orogastric|trophic|ebm|dbm|breast ?milk"
    r"|formula|tube feeds?|en(?= (?:\d|feed|via))|nasogastric|peg|nj|enteral(?:ly)?|s/c"
    r"|subcut\w*|(?<!left )(?<!right )(?<!l )(?<!r )sc(?! (?:line|lumen|cvc|central|catheter))|im"
    r"|i/m|intramuscular(?:ly)?|pr|rectal\w*|suppositor\w+|sl|sublingual|buccal|intranasal|nasal"
    r"|patch|nebs?|nebuli[sz]\w*|inhal\w+|epidural|intrathecal|nerve block|wound catheter|topical"
    r"|cream|ointment|gel|mouthwash|eye ?drops|pessary|pcea)\b"
)
BY_VEIN: Final = re.compile(r"\b(?:iv|i/v|intravenous(?:ly)?|ivi|ivpb|cvc|picc)\b")
DOUBTED: Final = re.compile(
    r"^\s*\?+ ?(?=[a-z])|\b(?:query|unsure|not sure|uncertain|unclear (?:if|whether)|possibly|maybe"
    r"|perhaps)\b|\? (?:on|taking|still on)\b"
)
# What is put on the skin or in the eye counts for nothing in the blood.
ON_THE_SKIN: Final = re.compile(r"\b(?:topical|cream|ointment|gel|eye ?drops|mouthwash|shampoo)\b")
WORDS_ON_A_DRUG: Final = re.compile(r"\s*(?:[a-z]+\s+)?$")


@dataclass(frozen=True, slots=True)
class Said:
    """How a clause says its drug stands, and where the words that say so begin and end.

    leads: of what is named behind the words alone ("no", "avoid"). needs_name: says it of a drug
    in the same clause alone ("previously", "allergy").
    """

    stands: Stands
    start: int
    end: int
    leads: bool = False
    needs_name: bool = False


def statement(text: str, *, whole: str, blood: bool) -> Said | None:
    """What a folded clause says of how its drug stands; None when nothing.

    whole: the text it is a clause of. blood: "ordered" is then not yet running.
    """
    refused = REFUSED.search(text)
    ended = ENDED.search(TO_END.sub(" ", text)) or (
        None if TIMES.search(whole) else GIVEN.search(text)
    )
    again = AGAIN.search(text) or (None if ended else BEGUN.search(text))
    if again and not refused:
        return Said("runs", again.start(), again.end())
    steered = STEERED.sub(" ", text)
    for stands, match in (
        ("never", refused), ("later", LATER.search(steered)),
        ("later", BLOOD_LATER.search(text) if blood and not FLOWS.search(whole) else None),
        ("ended", ended),
    ):  # fmt: skip
        if match:
            loose = not WORDS_ON_A_DRUG.match(text[: match.start()])
            return Said(stands, match.start(), match.end(), needs_name=loose)  # type: ignore[arg-type]
    return _by_name(text, whole)


def _by_name(text: str, whole: str) -> Said | None:
    """What is said of a drug only beside its name, and the way it is given."""
    by_vein = BY_VEIN.search(whole)
    if match := UNFIT.search(text) or PAST.search(text):
        stands: Stands = "never" if UNFIT.search(text) else "ended"
        return Said(stands, match.start(), match.end(), needs_name=True)
    if match := DENIED.search(text):
        return Said("never", match.start(), match.end(), leads=True)
    if match := None if by_vein else ELSEWHERE.search(text):
        loose = not WORDS_ON_A_DRUG.match(text[: match.start()])
        return Said("elsewhere", match.start(), match.end(), needs_name=loose)
    return None


def is_doubted(text: str) -> bool:
    """True where the writer asks whether it is given: "? digoxin", "patient unsure"."""
    return bool(DOUBTED.search(text))
