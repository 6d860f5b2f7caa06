"""Remarks on a blood sample among the conditions, and the results that they put in doubt."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from app.intake.vocabulary import fold
from app.patient.observation import Observation

Results = Mapping[str, tuple[Observation, ...]]

HARMED_BY_HAEMOLYSIS: Final = frozenset({"potassium", "phosphate", "magnesium"})
NOT_FROM_BLOOD: Final = frozenset(
    {
        "weight", "height", "temperature", "urine_sodium", "urine_potassium", "urine_osmolality",
        "urine_output", "egfr",
    }
)  # fmt: skip
SAMPLE: Final = r"(?:samples?|specimens?|bloods?|results?|lab|u ?& ?es?|tubes?|bottle)"
HAEMOLYSED: Final = re.compile(
    r"\bh(?:a)?emoly[sz]ed\b|\bhaemol\b|\bhemol\b"
    rf"|\bh(?:a)?emolysis (?:index|in (?:the )?{SAMPLE})|\bh[- ]?index\b"
    rf"|\b(?:gross|marked|moderate|visible) h(?:a)?emolysis\b"
    rf"|\b{SAMPLE}\b[^,;.]{{0,20}}\bh(?:a)?emolysis\b"
)
NOT_HAEMOLYSED: Final = re.compile(
    r"\b(?:no|not|non|nil|without|un|never)[- ]?(?:\w+ )?h(?:a)?emoly\w*"
    r"|\bindex (?:0|nil|normal|1\+?)\b"
)
# Blood that holds some of what is running in.
DILUTED: Final = re.compile(
    r"\bdrip arm|\bsame (?:arm|line|vein|limb|side) as\b"
    rf"|\b(?:iv|infusion) arm|\bcontaminat|\bdiluted {SAMPLE}"
    r"|\b(?:above|upstream of|proximal to|near|beside) (?:the |a |her |his )?(?:running )?"
    r"(?:drip|infusion|iv|cannula)"
    r"|\b(?:from|off|via|through|out of)\b[^,;.]{0,20}"
    r"\b(?:line|cannula|lumen|port|catheter|arm)\b[^,;.]{0,14}?"
    r"\b(?:carr\w+|running|with|in use|of the|that|where)\b[^,;.]*"
)
DRAWN: Final = re.compile(rf"\b(?:drawn|taken|bled|sampled|obtained|{SAMPLE})\b")
SPURIOUS: Final = re.compile(
    r"\b(?:spurious\w*|pseudo ?-?hyper ?kal\w+|pseudo ?-?hypo ?natr\w+|fac?titious\w*|artefact\w*"
    r"|artifact\w*|unreliable|wrong blood in tube|wbit|edta|prolonged tourniquet"
    r"|delayed separation|old sample|clotted sample|sample clotted|mislabel\w+)\b"
)
NAMED: Final[Mapping[str, re.Pattern[str]]] = {
    "potassium": re.compile(
        r"\bk\+?(?!\w)|\bpotassium\b|kal[ia]?emia|kalaemia|\btourniquet|\bseparation\b"
    ),
    "sodium": re.compile(r"\bna\+?(?!\w)|\bsodium\b|natr(?:a)?emia"),
    "glucose": re.compile(r"\bglucose\b|\bsugar\b|\bbm\b|\bgluc\b"),
    "lactate": re.compile(r"\blactate\b|\blact\b"),
    "haemoglobin": re.compile(r"\bhb\b|\bh(?:a)?emoglobin\b"),
    "calcium_total": re.compile(r"\bcalcium\b|\bca\b|\bedta\b"),
}
# EDTA takes the calcium and brings potassium.
EDTA: Final = frozenset({"potassium", "calcium_total", "calcium_ionised", "magnesium"})
# No remark is without one of these; most statements have none.
OF_A_SAMPLE: Final = re.compile(
    r"emol|index|edta|spurious|pseudo|titious|art[ei]fact|unreliable|wbit|wrong blood|tourniquet"
    r"|separation|old sample|clotted|mislabel|drawn|taken|bled|sampled|obtained|sample|specimen"
    r"|blood|result|lab\b|u ?& ?e|tube|bottle"
)
SAID_SO: Final = re.compile(r"\bis(?: a)? repeat\b|\brepeat (?:sample )?(?:fine|ok|not|clean)\b")
CLOCK: Final = re.compile(r"\b([01]?\d|2[0-3])[:.]?([0-5]\d)\b")
CLOCK_WITHIN_MIN: Final = 20
REPEATED: Final = re.compile(r"\brepeat(?:ed)?\b(?! (?:needed|pending|awaited|please|required))")
STATEMENT: Final = re.compile(r"[;\n]|\.\s+")


@dataclass(frozen=True, slots=True)
class Remark:
    """What was said of a sample: the words, and the results it concerns (None: all of blood)."""

    text: str
    concerns: frozenset[str] | None


def remarks_on_samples(texts: Iterable[str]) -> tuple[Remark, ...]:
    """Every remark that a sample is not to be relied on."""
    statements = (part.strip() for text in texts for part in STATEMENT.split(fold(text)))
    return tuple(remark for part in statements if part and (remark := _remark(part)))


def _remark(text: str) -> Remark | None:
    if not OF_A_SAMPLE.search(text) or SAID_SO.search(text):
        return None
    named = frozenset(name for name, pattern in NAMED.items() if pattern.search(text))
    if HAEMOLYSED.search(text) and not NOT_HAEMOLYSED.search(text):
        return Remark(text, named & HARMED_BY_HAEMOLYSIS or HARMED_BY_HAEMOLYSIS)
    if "edta" in text.split():
        return Remark(text, EDTA)
    if SPURIOUS.search(text) or (DILUTED.search(text) and DRAWN.search(text)):
        return Remark(text, named or None)
    return None


def without_sample_remarks(text: str) -> str:
    """A folded text without what it says of samples, so that none of it is a condition."""
    kept = [part for part in STATEMENT.split(text) if not _speaks_of_a_sample(part)]
    return "; ".join(kept)


def _speaks_of_a_sample(text: str) -> bool:
    return _remark(text) is not None or bool(HAEMOLYSED.search(text))


def in_doubt(results: Results, remarks: Iterable[Remark]) -> Results:
    """The results, that one of each which a remark concerns not used: the newest, or the one of
    the hour it names, or the one before a repeat it tells of.
    """
    doubted = dict(results)
    for remark in remarks:
        for name, group in results.items():
            concerned = (
                name not in NOT_FROM_BLOOD if remark.concerns is None else name in remark.concerns
            )
            if concerned and _which(group, remark.text) == 0 and group[0].value is not None:
                doubt = f"{group[0].as_written}, and of the sample it is said: “{remark.text}”"
                doubted[name] = (replace(group[0], value=None, doubt=doubt), *group[1:])
            elif concerned and (at := _which(group, remark.text)):
                doubted[name] = group[:at] + group[at + 1 :]
    return MappingProxyType(doubted)


def _which(group: tuple[Observation, ...], remark: str) -> int:
    """Which of a result's values, newest first, a remark is of."""
    if len(group) == 1:
        return 0
    hour = CLOCK.search(remark)
    if hour:
        said = int(hour[1]) * 60 + int(hour[2])
        for at, one in enumerate(group):
            taken = one.taken_at
            if taken is not None and abs(taken.hour * 60 + taken.minute - said) <= CLOCK_WITHIN_MIN:
                return at
    return 1 if REPEATED.search(remark) else 0
