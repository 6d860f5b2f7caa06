"""Facts and answers about pairs as a nurse would read them aloud. Pure."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairAnswer, PartAnswer
from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.local_note import LocalNote
from app.catalogue.pairs.substance import PLAIN_FLUID
from app.catalogue.source import NO_SOURCE
from app.cautions.phrases import hours_text, number, opening

HOURS_PER_DAY: Final = 24
MARKS: Final[Mapping[str, str]] = {
    **{
        mark: f"anything that holds {mark}"
        for mark in ("calcium", "potassium", "magnesium", "phosphate", "bicarbonate", "glucose")
    },
    PLAIN_FLUID: "any plain crystalloid", "blood": "any blood component",
    "vasoactive": "any vasoactive drug", "opioid": "any opioid", "aminoglycoside":
    "any aminoglycoside", "neuromuscular_blocker": "any neuromuscular blocker",
    "iron": "iron by vein",
}  # fmt: skip
CONTACTS: Final[Mapping[str, str]] = {
    "same bag": "in one bag", "Y-site": "by Y-site", "in turn": "one after the other in one lumen",
    "any line": "by whatever line", "": "",
}  # fmt: skip
POPULATIONS: Final[Mapping[str, str]] = {
    "all": "everyone", "past 28 days": "past 28 days of age", "newborn": "newborns, to 28 days",
}  # fmt: skip
NO_DATA: Final = "Nobody has told us of these two: keep them apart."
NEVER_BOTH: Final = "Not both to this patient at all"


def word_of(word: str, catalogue: Catalogue) -> str:
    """A word of a fact as people say it: a fluid's name, a drug, or what a mark means."""
    fluid = catalogue.get(word)
    if fluid is not None:
        return fluid.name
    return MARKS.get(word, word.replace("_", " "))


def fact_sentence(fact: PairFact, catalogue: Catalogue) -> str:
    """What one fact says: "Keep A and B apart: they precipitate." """
    a, b = word_of(fact.a, catalogue), word_of(fact.b, catalogue)
    said = {
        "keep apart": f"keep {a} and {b} apart",
        "in turn": f"{a} and {b} only one after the other",
        "no data": f"of {a} and {b} together nobody knows",
        "only if": f"{a} and {b} may run together only if",
        "may run together": f"{a} and {b} may run together",
    }[fact.verdict]
    if fact.verdict == "only if":
        return opening(_ended(f"{said} {fact.condition or 'the pharmacist confirms it'}"))
    more = _but_dot("; ".join(filter(None, (fact.mechanism, fact.condition))))
    return opening(_ended(f"{said}: {more}" if more else said))


def seen_sentence(fact: PairFact) -> str:
    """How it was seen: "By Y-site, esmolol 10 mg/mL, in 5% dextrose, for 24 h: label statement."""
    under = [CONTACTS[fact.contact], fact.strength]
    under += [f"in {fact.vehicle}" if fact.vehicle else ""]
    under += [f"for {time_words(fact.hours)}" if fact.hours else ""]
    told = ", ".join(filter(None, under))
    how = fact.how_seen or "how it was seen is not told"
    return opening(_ended(f"{told}: {how}" if told else how))


def source_words(fact: PairFact) -> str:
    """Whose word it is, and whether we saw it: "ceftriaxone label (seen)"."""
    source = fact.source
    seen = "seen" if source.seen else "from memory"
    return f"{source.work} ({seen}{f'; {source.note}' if source.note else ''})"


def time_words(hours: float) -> str:
    """A time of contact: "24 h", "7 days"."""
    days = hours / HOURS_PER_DAY
    return f"{number(days)} days" if days > 1 and days == int(days) else hours_text(hours)


def day_words(day: date | datetime) -> str:
    """A day as it is written: "4 March 2031"."""
    return f"{day.day} {day:%B %Y}"


def signed_words(note: LocalNote) -> str:
    """Who signed: "local note by R. Almeida, pharmacist, of 4 March 2031"."""
    return f"local note by {note.by}, {note.role}, of {day_words(note.signed_at)}"


def headline(answer: PairAnswer) -> str:
    """The answer in a line, so that it can be acted upon alone."""
    return part_headline(answer.decisive)


def part_headline(part: PartAnswer) -> str:
    """The answer about one part with another in a line."""
    if part.note is not None:
        return f"May run together ({signed_words(part.note)}), if {_but_dot(part.note.conditions)}."
    fact = part.counts
    if part.verdict == "no data":
        more = f" {opening(_ended(fact.condition))}" if fact and fact.condition else ""
        return f"{NO_DATA}{more}"
    if fact is None:
        return "May run together: they are the same thing."
    if fact.scope == "patient":
        return f"{NEVER_BOTH}: {_because(fact)}"
    return _verdict_line(fact)


def _verdict_line(fact: PairFact) -> str:
    if fact.verdict == "only if":
        return f"May run together only if {_ended(fact.condition or 'the pharmacist confirms it')}"
    if fact.verdict == "in turn":
        return f"Only one after the other: {_ended(fact.condition or 'flush fully between')}"
    if fact.verdict == "keep apart":
        because = _because(fact)
        return f"Keep apart: {because}" if because else "Keep apart."
    condition = f": {_but_dot(fact.condition)}" if fact.condition else ""
    return f"May run together{condition}.{_unseen(fact)}"


def _unseen(fact: PairFact) -> str:
    if fact.source.seen:
        return ""
    if fact.source.work == NO_SOURCE:
        return " By common practice, with no source: confirm with pharmacy."
    return " By a source from memory: confirm with pharmacy."


def _because(fact: PairFact) -> str:
    said = "; ".join(filter(None, (fact.mechanism, fact.condition)))
    return _ended(said) if said else ""


def _but_dot(text: str) -> str:
    return text.strip().removesuffix(".")


def _ended(text: str) -> str:
    return f"{_but_dot(text)}."
