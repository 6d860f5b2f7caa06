"""Why a fluid is given: its purpose, and every reason that the order's words name."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, cast, get_args

from app.intake.conditions import read_conditions
from app.intake.request import Reader
from app.intake.vocabulary import Phrases, Vocabulary, fold, plain_words, words_of
from app.patient.order import Purpose

# Looked for in this order: what stands first decides where words fit several.
PURPOSES: Final[tuple[tuple[Purpose, re.Pattern[str]], ...]] = (
    ("carrier", re.compile(r"\bcarrier|\bt?kvo\b|\btko\b|keep (?:the )?(?:vein|line) open"
                           r"|\bpatency|\b(?:line|vein|cannula) patent\b|\bflush|\bdiluent"
                           r"|\bdilut|\bvehicle|\bkeep open\b"
                           r"|\bline open\b|\bdrug (?:infusion|solution)|\breconstitut")),
    ("correction", re.compile(r"\bseiz|\bfitting\b|\bicp\b|intracranial|\bherniat|\bconing\b"
                              r"|\bre-?lower|\bover-?correct|\bovershoot")),
    ("resuscitation", re.compile(r"\bres(?:us|uc|suc)|\bbolus|\bfluid challenge|\bshock"
                                 r"|\bsepsis (?:six|6)\b"
                                 r"|\bhypotens|\bvolume expan|\bfill(?:ing)?\b|\bhypovol"
                                 r"|\blow bp\b|\bbolusing\b|\bbleed|\bha?emorrhage\b")),
    ("replacement", re.compile(r"\breplac|\bdeficit|\bloss(?:es)?\b|\bre-?hydrat|\bdehydrat"
                               r"|\bhydrat|\bpre-?hydrat|\bpost-?hydrat|\bhyper-?hydrat"
                               r"|\bforced diuresis|\bdiuresis\b|\bcatch[- ]up\b")),
    ("redistribution", re.compile(r"\bredistribut")),
    ("correction", re.compile(
        r"\bcorrect|\balkali|\btreat(?:ment|ing)?\b|\brepletion\b|\breplete\b|\bwash[- ]?out"
        r"|\bacidosis|\bacidaem|\bacidem|\bhyper(?:k|na|n\b|gly|ca)|\bhypo(?:k|na|gly|ca|mag|ph)"
        r"|\b(?:rais|lower|reduc|dilut|increas|bring down|bring up|drop)\w*"
        r" (?:the |serum |plasma )?(?:sodium|na|potassium|k|glucose|calcium|osmol\w+|ph|bp|icp)\b"
        r"|\b(?:low|high) (?:sodium|na|potassium|k|glucose|calcium|magnesium|phosphate)\b"
        r"|\bfree water\b|\bketoacid|\bdka\b|\bhhs\b|\bdi protocol\b|\bdiabetes insipidus\b"
        r"|\btumou?r lysis|\brhabdo|\boverdose|\bpoisoning|\btoxicity")),
    ("maintenance", re.compile(
        r"\bmaint|\bmivf?\b|\broutine\b|\bnbm\b|\bnpo\b|\bnil by mouth\b|\bfasting\b"
        r"|\bnil per os\b|\bdaily (?:needs|requirements?)\b|\bstandard\b|\bbackground\b"
        r"|\bhourly fluids\b|\bunable to drink\b")),
)  # fmt: skip
# What it is not for, or no longer.
NOT_FOR: Final = re.compile(
    r"\b(?:not|no|without)\s+(?:for\s+)?[a-z]+"
    r"|\b(?:after|post|following|s/p)[\s-]+(?:\w+\s+)?(?:bolus|resus)\w*"
    r"|\b(?:resus\w*|bolus\w*|deficit|rehydration|replacement)\s+(?:is\s+|now\s+)?"
    r"(?:complete\w*|done|finished|over(?!\s*\d))\b"
)
# From here on a text tells of what may happen, not of why the fluid is given.
NOT_WHY: Final = re.compile(
    r"\b(?:if|unless|until|till|when|avoid\w*|prevent\w*|watch(?:ing)?|beware|caution|look out"
    r"|monitor(?:ing)? for|observe for|risk|in case|stop (?:for|on)|call|inform|rather than"
    r"|instead of|contraindicated|hold for|for fear|prophyla\w+)\b"
)
# "Over 2 hrs" is a time; the same letters alone are a kidney that fails with the liver.
HOURS: Final = re.compile(r"(?:(?<=\d)|(?<=\bfew)|(?<=\bnext))[\s-]*hrs\b")
SENTENCES: Final = re.compile(r"[;\n]|\.\s+")
# Where the reason begins in a fluid's name, and what shows that something else stands there.
REASON_STARTS: Final = re.compile(
    r"\s*(?:[,;(]|\s-\s|\b(?:for|to|due to|because of|as|in)\b)\s*(?:treat\w* |the |a )?"
)
# What is measured and raised or lowered, where it names no fluid.
IONS: Final = frozenset(
    ("sodium", "na", "potassium", "k", "calcium", "magnesium", "phosphate", "glucose")
)
DIGIT: Final = re.compile(r"\d")
# A reason is a few words; every place it may begin at is tried, so that this bounds the work.
LONGEST_REASON: Final = 300
CHOICES: Final = ", ".join(get_args(Purpose))


@dataclass(frozen=True, slots=True)
class Why:
    """The purpose, the text it was read from, and all reasons as keys."""

    purpose: Purpose | None = None
    written: str = ""
    reasons: frozenset[str] = frozenset()


def read_why(reader: Reader, name_words: str, vocabulary: Vocabulary) -> Why:
    """The reason for the fluid, from its own field or else from the order's other words.

    name_words: what the fluid's name says beyond the fluid. A purpose that names no reason known
    is asked about.
    """
    written = reader.text("purpose") or ""
    order_text, rate_text = reader.text("order_text"), reader.text("rate_text")
    texts = tuple(text for text in (written, order_text, rate_text, name_words) if text)
    reasons = frozenset().union(*(reasons_in(text, vocabulary) for text in texts))
    if written:
        own = reasons_in(written, vocabulary)
        purpose = purpose_in(written) or _purpose_of(own, vocabulary)
        if purpose is None and not own:
            reader.ask("purpose", written, f"Which reason is this: {CHOICES}?")
        return Why(purpose, written, reasons)
    for text in texts:
        purpose = purpose_in(text) or _purpose_of(reasons_in(text, vocabulary), vocabulary)
        if purpose:
            return Why(purpose, text, reasons)
    return Why(None, "", reasons)


@lru_cache(maxsize=4096)
def purpose_in(text: str) -> Purpose | None:
    """The purpose that words give; None when they give none."""
    plain = NOT_FOR.sub(" ", fold(text))
    return next((purpose for purpose, pattern in PURPOSES if pattern.search(plain)), None)


def reasons_in(text: str, vocabulary: Vocabulary) -> frozenset[str]:
    """Every reason that words give, as condition keys and keys of the reasons' own list."""
    return vocabulary.keep("reasons", text, lambda: _reasons_in(text, vocabulary))


def _reasons_in(text: str, vocabulary: Vocabulary) -> frozenset[str]:
    found: set[str] = set()
    for sentence in SENTENCES.split(HOURS.sub(" h", fold(text))):
        why = NOT_WHY.split(sentence)[0]
        found |= _listed(why, vocabulary.reasons)
        found |= read_conditions((why,), vocabulary).found
    return frozenset(found)


def _listed(text: str, known: Phrases) -> set[str]:
    found: set[str] = set()
    words = plain_words(words_of(text))
    for hit in known.hits(words):
        if hit.start == 0 or words[hit.start - 1] not in ("no", "not", "without"):
            found |= {hit.meaning.key, *hit.meaning.marks}
    return found


def _purpose_of(reasons: frozenset[str], vocabulary: Vocabulary) -> Purpose | None:
    table = vocabulary.tables["reasons"]["reason"]
    purposes = (table.get(key, {}).get("purpose") for key in sorted(reasons))
    return cast(Purpose | None, next(filter(None, purposes), None))


def cut_reason(name: str, vocabulary: Vocabulary) -> tuple[str, str]:
    """A fluid's name without the reason written behind it, and those words."""
    return vocabulary.keep("names with reasons", name, lambda: _cut_reason(name, vocabulary))


def _cut_reason(name: str, vocabulary: Vocabulary) -> tuple[str, str]:
    folded = fold(name)
    for match in REASON_STARTS.finditer(folded):
        head, tail = folded[: match.start()].strip(), folded[match.end() :].strip(" ()")
        if head and 0 < len(tail) <= LONGEST_REASON and _is_reason(tail, vocabulary):
            return head, tail
    return name, ""


def _is_reason(tail: str, vocabulary: Vocabulary) -> bool:
    """True for words that give a reason and name no fluid, drug or amount."""
    if DIGIT.search(tail) or not (purpose_in(tail) or reasons_in(tail, vocabulary)):
        return False
    words = tuple(word for word in plain_words(words_of(tail)) if word not in IONS)
    return not any(vocabulary.fluids.hits(words)) and not any(vocabulary.drugs.hits(words))
