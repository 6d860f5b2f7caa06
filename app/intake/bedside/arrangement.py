"""How the words say that two infusions share a line."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final, Literal, cast

from app.intake.vocabulary import fold
from app.patient.order import CoInfusion, Order

Arrangement = Literal["", "in turn", "separate", "together"]
# What it shares with, or is kept from: "with Hartmann's", up to where something else is said.
BESIDE: Final = (
    r"(?:\s*(?:\bin with|\bwith|\bw/|\bw\b|\binto|\bonto|\bto|\bas|\bof|\bfrom|\balongside)\s*"
    r"(?:the |a |running |main )*([a-z0-9.%/' -]*?)(?=\s*(?:$|[,;()@]|\bover\b|\bat \d|\bflush"
    r"|\bvia\b|\bin turn\b|\bper\b|\d+ ?(?:ml|mls) ?/|- )))?"
)
FLUID: Final = r"(?:fluids?|infusions?|maintenance|drip|hartmanns|lr|csl|ringers|line)"
FLUIDS: Final = rf"(?:the |all )?(?:iv )?(?:[a-z]+ )?{FLUID}"
WHILE: Final = (
    r"(?:during|while|for (?:the |each |this |its )?(?:transfusion|blood|red cells|platelets|ffp"
    r"|plasma|unit|dose|drug|antibiotic\w*|cef\w+|it|this|that|infusion|bolus))\b"
)
IN_TURN: Final = re.compile(
    r"[,;(]?\s*(?:\bone after the other\b|\bin turn\b|\bsequential(?:ly)?\b|\balternat\w+\b"
    r"|\b(?:with|after|and)(?: a| an| the)?(?: (?:saline|ns|0\.9%|line))* flush(?:es|ed)?"
    r"(?: before| after| between| in between| and after)*\b"
    r"|\bflush(?:ed)? (?:before|between|after)\b(?: and after)?"
    r"|\bflush(?:ed|es|ing)?\b[^;]{0,40}?"
    r"\b(?:before|between|after|pre|post|either side|both sides)\b"
    r"(?:(?: and| &|/|,) ?(?:after|post))?"
    r"|\b(?:pre|before)(?: and| &| ?/) ?(?:post|after)[- ]flush(?:es)?\b|\bpre-?/?post-?flush\b"
    rf"|\b(?:stop|pause|hold|suspend|interrupt) {FLUIDS}\b[^;]{{0,20}}?\bflush\w*"
    r"(?:[^;]{0,30}\bflush\w*)?(?:[ ,]*(?:then )?restart\w*)?"
    r"|\bflush\b[^;]{2,30}\bflush\b(?:[ ,]*(?:then )?restart\w*)?"
    r"|(?:\b[a-z .%0-9]*\b(?:stopped|paused|held|off|interrupted)\b[ ,;]*(?:and|then)?[ ,;]*)?"
    r"(?<!not )(?<!never )\b(?:(?:and|the|line|lumen|cannula|is|was) )*(?:flushed|flush given)\b"
    r"(?: (?:through|well|before|after|between|and after|with|saline|in|the))*"
    r"|\bbetween (?:the )?(?:flush(?:es)?|units?|bags?|doses?|transfusions?)\b"
    rf"|\b(?:stopped|paused|interrupted|off|held) {WHILE}[^,;]*"
    rf"|\b(?:pause|stop|hold|interrupt) {FLUIDS} {WHILE}[^,;]*"
    r"|\bone at a time\b|\bnot at the same time\b|\bnever together\b"
    r"|\b(?:followed by|then|and then) (?:a )?(?:\d+ ?mls? )?(?:saline |ns |0\.9% )*flush\b)\)?"
)
# "no flush before or after", "not flushed": the opposite of giving in turn.
NO_FLUSH: Final = re.compile(
    r"\b(?:no|not|never|without|omit\w*)\b[^,;.]{0,20}\bflush\w*[^,;.]*|\?\s*(?:line )?flush\w*"
)
# Kept from running together, without a word of where or when it is given.
KEPT_FROM: Final = re.compile(
    r"[,;(-]?\s*\b(?:(?:do|must|should|can|may)?\s*not|dont|never|avoid)\s+(?:to )?(?:be )?"
    r"(?:(?:y[- ]?(?:site|ed|connect)\w*|piggy ?back\w*|mix\w*|co[- ]?infus\w*|share\w*"
    r"|r[ua]n(?:ning)? (?:together|with)|given? together)\b" + BESIDE + r"|with\b[^,;()]*)\)?"
)
SIDE: Final = r"(?:arm|hand|side|limb|foot|leg)"
LIMB: Final = r"(?:hand|arm|forearm|acf|antecubital|foot|leg|side|wrist|ij|jugular)"
SEPARATE: Final = re.compile(
    rf"\b(?:left|lt|l) {LIMB}\b[^;]*\b(?:right|rt|r) {LIMB}\b|\b(?:right|rt|r) {LIMB}\b[^;]*"
    rf"\b(?:left|lt|l) {LIMB}\b|"
    r"[,;(]?\s*(?:\b(?:via|through|thru|on|in|into|by|using)\s+)?(?:a |an |the |its |their )?"
    r"(?:\b(?:own|separate|other|different|second|2nd|third|3rd|dedicated|another|new|opposite"
    r"|contralateral|sep)"
    r" (?:iv |piv |peripheral )?(?:line|lumen|cannula|access|site|port|catheter|iv|pivc?|vein|drip"
    rf"|\d\d ?g|{SIDE})\b|\bseparately\b)"
    + BESIDE + r"\)?"
    r"|[,;(]?\s*\bnot (?:via |through |in |on )?(?:the )?same (?:line|lumen|cannula|iv|drip)\b"
    + BESIDE + r"\)?"
)  # fmt: skip
TOGETHER: Final = re.compile(
    r"[,;(]?\s*(?:\b(?:via|through|thru|at|by|as a|on|in|into|using|w/|with)\s*)?(?:the |a )?"
    r"(?:\b(?:y[- ]?(?:site|connector|port|piece|junction)d?|y[- ]?sited|y-?ed|y'?d|ysite"
    r"|piggy[ -]?back(?:ed|ing)?|pb(?= (?:to|into|onto))"
    r"|(?:same|shared?|sharing) (?:iv )?(?:line|lumen|bag|cannula|drip|iv|access|venous line)"
    r"|side[- ](?:port|arm)|(?:injection|medication|needleless|access) port(?= of)|bifuse|octopus"
    r"|bifurcated|manifold|(?:double|dual|y) (?:extension|lumen extension)|extension set"
    r"|(?:3|three)[- ]?way(?: tap)?|stop ?cock"
    r"|run together|running together|co[- ]?infus(?:ed|ing)|simultaneous(?:ly)?|concurrent(?:ly)?"
    r"|in parallel|alongside|with [a-z ]+ (?:at|by|via) (?:the )?y"
    r"|(?:mixed|added|put|in|into)(?: in| into| to)? (?:the )?(?:same )?"
    r"(?:[a-z]+ )?bag(?! of)"
    rf"|(?:run|running|given|infused) (?:with|into)(?= (?:the |running |main )*{FLUID})"
    rf"|(?:with|into)(?= (?:the )?running {FLUID})"
    r")(?![a-z]))" + BESIDE + r"\)?"
)
PATTERNS: Final = (
    ("separate", SEPARATE), ("in turn", KEPT_FROM), ("in turn", IN_TURN), ("together", TOGETHER),
)  # fmt: skip


def arrangement_of(text: str) -> Arrangement:
    """How the words say that two infusions share a line, "" when they do not."""
    plain = NO_FLUSH.sub(" ", fold(text))
    for said, pattern in PATTERNS:
        if pattern.search(plain):
            return cast(Arrangement, said)
        plain = pattern.sub(" ", plain)
    return ""


def beside_words(text: str) -> str:
    """What the words name as sharing the line: "hartmanns" of "Y-site with Hartmann's"."""
    match = TOGETHER.search(NO_FLUSH.sub(" ", fold(text)))
    return (match[1] or "").strip() if match else ""


def without_arrangement(text: str) -> str:
    """A folded text without the words that say how a line is shared."""
    plain = NO_FLUSH.sub(" ", text)
    for _, pattern in PATTERNS:
        plain = pattern.sub(" ", plain)
    return plain


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
