"""The answer about two things in one lumen: the verdict, every fact behind it, and which counts."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.pairs.fact import STRICTEST_FIRST, PairFact, Scope, Verdict
from app.catalogue.pairs.facts import NEWBORN, NO_FACTS, PairFacts, Ranked, part_pairs
from app.catalogue.pairs.local_note import NO_NOTES, LocalNote, Notes
from app.catalogue.pairs.substance import Substance
from app.catalogue.source import NO_SOURCE, Source

# What a named person may settle for this unit; what is known to harm stays as it is.
MAY_BE_SIGNED: Final = ("no data", "only if")
SAME: Final = "They are the same thing."
NOBODY: Final = "Nobody has told us of these two."
ALONE: Final = "It is the only fact we have of the two."
OLDER: Final = "It is the only fact past the newborn age."
GENERAL: Final = "It is a general rule; no fact names both."
NOTED: Final = "This unit's own signed note counts until its review date."
UNDILUTED: Final = "Whatever is known of it is known of it diluted."
FOR_NEWBORNS: Final = "The fact about newborns counts."


@dataclass(frozen=True, slots=True)
class PartAnswer:
    """What is known of one part with another.

    counts: the fact that counts; None with no data, one thing, or a note instead. facts: all, that
    one first. note: the local note that counts; notes: all that were ever signed. why: what was
    taken, and why.
    """

    one: Substance
    other: Substance
    verdict: Verdict
    why: str
    counts: PairFact | None = None
    facts: tuple[PairFact, ...] = ()
    note: LocalNote | None = None
    notes: tuple[LocalNote, ...] = ()

    @property
    def scope(self) -> Scope:
        """patient where they may not both be given at all."""
        return "lumen" if self.counts is None else self.counts.scope

    @property
    def is_unseen(self) -> bool:
        """True where they may run together only by a source from memory, or by none."""
        fact = self.counts
        return self.verdict == "may run together" and fact is not None and not fact.source.seen

    @property
    def may_be_signed(self) -> bool:
        """True where a local note may settle it."""
        return self.note is None and self.verdict in MAY_BE_SIGNED

    @property
    def order(self) -> tuple[bool, int, bool]:
        """What counts most goes first."""
        return self.scope != "patient", STRICTEST_FIRST.index(self.verdict), not self.is_unseen


@dataclass(frozen=True, slots=True)
class PairAnswer:
    """The answer about two things. parts: each part of one with each of the other, the strictest
    first; a drug or a fluid by itself is one part.
    """

    parts: tuple[PartAnswer, ...]

    @property
    def decisive(self) -> PartAnswer:
        """The part that decides."""
        return self.parts[0]

    @property
    def verdict(self) -> Verdict:
        """The strictest verdict of the parts."""
        return self.decisive.verdict

    @property
    def scope(self) -> Scope:
        """patient where they may not both be given at all."""
        return self.decisive.scope

    @property
    def is_apart(self) -> bool:
        """True unless they may run together: no data, and a condition nobody here has confirmed,
        keep them apart.
        """
        return self.verdict != "may run together"

    @property
    def is_unseen(self) -> bool:
        """True where they may run together, and some of it by a source from memory, or by none."""
        return self.decisive.is_unseen

    @property
    def gaps(self) -> tuple[PartAnswer, ...]:
        """The parts of which nobody has told us."""
        return tuple(part for part in self.parts if part.verdict == "no data")


@dataclass(frozen=True, slots=True)
class PairBook:
    """Everything known of pairs on one day: the facts and the unit's own notes."""

    facts: PairFacts = NO_FACTS
    notes: Notes = NO_NOTES

    def answer(self, one: Substance, other: Substance, *, newborn: bool = False) -> PairAnswer:
        """facts_of() with these facts and notes."""
        return facts_of(self, one, other, newborn=newborn)


NO_BOOK: Final = PairBook()


def facts_of(
    book: PairBook, one: Substance, other: Substance, *, newborn: bool = False
) -> PairAnswer:
    """What is known of two things in one lumen, whichever is named first.

    newborn: the patient is one; facts about newborns then go before all others, and else are shown
    without counting. No data is an answer of its own.
    """
    parts = sorted(_parts(book, one, other, newborn=newborn), key=lambda part: part.order)
    return PairAnswer(tuple(parts))


def _parts(
    book: PairBook, one: Substance, other: Substance, *, newborn: bool
) -> Iterator[PartAnswer]:
    for part, other_part in part_pairs(one, other):
        answer = _part(book, part, other_part, newborn=newborn)
        carried = part.is_carrier or other_part.is_carrier
        never = answer.counts is not None and answer.counts.never_at_once
        if not carried or never:
            yield answer


def _part(book: PairBook, one: Substance, other: Substance, *, newborn: bool) -> PartAnswer:
    behind = book.facts.behind(one, other)
    first = _that_counts(behind, newborn=newborn)
    if (one.is_never_hung or other.is_never_hung) and not _never_at_once(first):
        facts = tuple(ranked.fact for ranked in behind)
        fact = _undiluted(one, other)
        return PartAnswer(one, other, fact.verdict, UNDILUTED, fact, (fact, *facts))
    facts = tuple(ranked.fact for ranked in behind)
    if _is_one_thing(one, other, first):
        return PartAnswer(one, other, "may run together", SAME)
    verdict: Verdict = "no data" if first is None else first.fact.verdict
    notes = book.notes.about(one, other)
    note = book.notes.counting(one, other) if verdict in MAY_BE_SIGNED else None
    if note is not None:
        return PartAnswer(one, other, "may run together", NOTED, None, facts, note, notes)
    if first is None:
        return PartAnswer(one, other, verdict, NOBODY, None, facts, None, notes)
    rest = tuple(fact for fact in facts if fact is not first.fact)
    why = _why(first, behind)
    return PartAnswer(one, other, verdict, why, first.fact, (first.fact, *rest), None, notes)


def _never_at_once(first: Ranked | None) -> bool:
    return first is not None and first.fact.never_at_once


def _undiluted(one: Substance, other: Substance) -> PairFact:
    return PairFact(
        a=one.key,
        b=other.key,
        verdict="keep apart",
        source=Source(NO_SOURCE),
        condition="dilute it first, and ask about the bag it is put into",
        mechanism="a concentrate, or water, is never hung as it is",
        how_seen="usual practice",
    )


def _is_one_thing(one: Substance, other: Substance, first: Ranked | None) -> bool:
    """A drug is no stranger to itself, whatever a rule about any drug says; two of one kind are
    strangers all the same.
    """
    if one.is_class or other.is_class:
        return False
    return bool(one.key and one.key == other.key) or (first is None and one.is_same(other))


def _that_counts(behind: tuple[Ranked, ...], *, newborn: bool) -> Ranked | None:
    """The closest and strictest for the patient: a newborn's own fact goes before all others."""
    own = [r for r in behind if r.fact.population == NEWBORN]
    if newborn and own:
        return own[0]
    return next((r for r in behind if r.fact.population != NEWBORN), None)


def _why(first: Ranked, behind: tuple[Ranked, ...]) -> str:
    """Which of the facts was taken, and why."""
    if first.fact.population == NEWBORN:
        return FOR_NEWBORNS
    weighed = [r for r in behind if r.fact.population != NEWBORN]
    alike = [r for r in weighed if r.closeness == first.closeness]
    if any(r.fact.strictness < first.fact.strictness for r in alike):
        return "What was seen by Y-site counts before what is said of one bag."
    if len({r.fact.verdict for r in alike}) > 1:
        return f"The sources differ: of {len(alike)} facts the strictest counts."
    if len(alike) < len(weighed):
        return f"Of {len(weighed)} facts the one that names the two most closely counts."
    if len(weighed) > 1:
        return f"The {len(weighed)} facts say the same."
    if len(behind) > len(weighed):
        return OLDER
    return GENERAL if first.fact.is_general else ALONE
