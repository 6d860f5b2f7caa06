"""Facts and answers about pairs as a nurse would read them aloud. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
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
    "iron": "iron by vein", "penicillins": "any penicillin", "cephalosporin": "any cephalosporin",
}  # fmt: skip
# Keys that are not their own spelling.
SPELLED: Final[Mapping[str, str]] = {
    "amphotericin_b": "amphotericin B", "co_trimoxazole": "co-trimoxazole",
    "co_amoxiclav": "co-amoxiclav", "piperacillin_tazobactam": "piperacillin-tazobactam",
}  # fmt: skip
CONTACTS: Final[Mapping[str, str]] = {
    "same bag": "in one bag", "Y-site": "by Y-site", "in turn": "one after the other in one lumen",
    "any line": "by whatever line", "": "",
}  # fmt: skip
POPULATIONS: Final[Mapping[str, str]] = {
    "all": "everyone", "past 28 days": "past 28 days of age", "newborn": "newborns, to 28 days",
}  # fmt: skip
NO_DATA: Final = "Nobody has told us of these two: keep them apart."
OF_ALL: Final = "Nobody has told us of all of these: keep them apart."
BY_NAME: Final = "Of some of them harm may be known: ask about each by its name."
# What nobody here has read never reads as safe.
CONFIRM_FIRST: Final = "Confirm with pharmacy first:"
NEVER_BOTH: Final = "Not both to this patient at all"


def word_of(word: str, catalogue: Catalogue) -> str:
    """A word of a fact as people say it: a fluid's name, a drug, or what a mark means."""
    fluid = catalogue.get(word)
    if fluid is not None:
        return fluid.name
    return MARKS.get(word) or SPELLED.get(word) or word.replace("_", " ")


def fact_sentence(fact: PairFact, catalogue: Catalogue) -> str:
    """What one fact says: "Keep A and B apart: they precipitate. Flush between." """
    a, b = word_of(fact.a, catalogue), word_of(fact.b, catalogue)
    said = {
        "keep apart": f"keep {a} and {b} apart",
        "in turn": f"{a} and {b} only one after the other",
        "no data": f"of {a} and {b} together nobody knows",
        "only if": f"{a} and {b} may run together only if {_condition(fact)}",
        "may run together": f"{a} and {b} may run together",
    }[fact.verdict]
    because = _sentences(fact.mechanism, "" if fact.verdict == "only if" else fact.condition)
    if fact.verdict == "only if":
        return opening(f"{said}. {opening(because)}".strip())
    return opening(f"{said}: {because}" if because else f"{said}.")


def seen_sentence(fact: PairFact) -> str:
    """How it was seen: "By Y-site, esmolol 10 mg/mL, in 5% dextrose, for 24 h: label statement."""
    under = (
        CONTACTS[fact.contact],
        fact.strength,
        f"in {fact.vehicle}" if fact.vehicle else "",
        f"for {time_words(fact.hours)}" if fact.hours else "",
    )
    told = ", ".join(filter(None, under))
    how = fact.how_seen or "how it was seen is not told"
    return opening(f"{told}: {how}." if told else f"{how}.")


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


@dataclass(frozen=True, slots=True)
class Line:
    """An answer in a line: what to do, and what more there is to say."""

    lead: str
    rest: str = ""

    @property
    def text(self) -> str:
        """Both, as one reads them aloud."""
        if not self.rest:
            return self.lead if self.lead.endswith(".") else f"{self.lead}."
        return f"{self.lead} {self.rest}"


def headline(answer: PairAnswer) -> str:
    """The answer in a line, so that it can be acted upon alone."""
    return line_of(answer.decisive).text


def line_of(part: PartAnswer) -> Line:
    """The answer about one part with another."""
    if part.note is not None:
        conditions = _but_dot(part.note.conditions)
        return Line(f"May run together ({signed_words(part.note)}):", f"{conditions}.")
    fact = part.counts
    if part.verdict == "no data" and fact is None and (part.one.is_class or part.other.is_class):
        return Line(OF_ALL, BY_NAME)
    if part.verdict == "no data":
        return Line(NO_DATA, opening(_sentences(fact.condition)) if fact else "")
    if fact is None:
        return Line("May run together:", "they are the same thing.")
    if fact.scope == "patient":
        return Line(f"{NEVER_BOTH}:", _sentences(fact.mechanism, fact.condition))
    return _by_fact(fact)


def _by_fact(fact: PairFact) -> Line:
    if fact.verdict == "only if":
        return Line("May run together only if", f"{_condition(fact)}.")
    if fact.verdict == "in turn":
        said = _sentences(fact.condition or "flush fully between", fact.mechanism)
        return Line("Only one after the other:", said)
    if fact.verdict == "keep apart":
        because = _sentences(fact.mechanism, fact.condition)
        return Line("Keep apart:" if because else "Keep apart.", because)
    if not fact.source.seen:
        return Line(CONFIRM_FIRST, _sentences(_unseen(fact), fact.condition))
    lead = "May run together:" if fact.condition else "May run together."
    return Line(lead, _sentences(fact.condition))


def _unseen(fact: PairFact) -> str:
    if fact.source.work == NO_SOURCE:
        return "by common practice, with no source, they may run together"
    return "by a source from memory they may run together"


def _condition(fact: PairFact) -> str:
    return _but_dot(fact.condition or "the pharmacist confirms it")


def _sentences(*parts: str) -> str:
    """The first part as it stands after a colon, each other as a sentence of its own; what is not
    told is left out.
    """
    told = [f"{_but_dot(part)}." for part in parts if part]
    return " ".join((*told[:1], *map(opening, told[1:])))


def _but_dot(text: str) -> str:
    return text.strip().removesuffix(".")
