"""Which of a drug's words tell of what runs now: stopped, still to come, denied, or by mouth."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Final

from app.intake.medicines.standing import Said, statement
from app.intake.vocabulary import Hit, Vocabulary, plain_words, words_of
from app.patient.order import Stands

PARTING: Final = re.compile(
    r"(?P<swap>\s+(?:(?:changed|switched|swapped)(?: over)? to|replaced (?:by|with))\s+)"
    r"|(?P<strong>\s*[;\n]\s*|\s*,(?=\s|[a-z])\s*|\s+(?:then|but|now on)\s+)"
    r"|(?P<note>\s*[()\[\]]\s*|\s-+\s)"
    r"|(?P<weak>\s+(?:and|&|\+|plus)\s+)"
)
A_FLUID: Final = "fluids"
BESIDE: Final = ("with", "while", "as", "when")
LISTED: Final = re.compile(r"\b(?:or|nor)\b")


@dataclass(frozen=True, slots=True)
class Clause:
    """A stretch of a text about drugs: what it names, and how that stands.

    after: what parts it from the clause before: strong (another statement), note (a word on the
    one before), weak ("and"), swap (given instead of it). said: the writer says how it stands;
    before: in front of the names.
    """

    start: int
    end: int
    text: str
    hits: tuple[Hit, ...]
    after: str
    stands: Stands = "runs"
    said: bool = False
    before: bool = False


def clauses_of(text: str, vocabulary: Vocabulary, *, blood: bool = False) -> tuple[Clause, ...]:
    """A folded text as clauses, each with how what it names stands.

    blood: the text is about blood, of which "ordered" or "cross-matched" is not yet running.
    """
    heard: list[Clause] = []
    for clause in _parted(text, vocabulary):
        said = statement(clause.text, whole=text, blood=blood)
        if said is None or (said.stands == "elsewhere" and _is_by_vein(clause)):
            heard.append(clause)
        elif clause.hits:
            heard += _of_names(clause, said, vocabulary)
        else:
            heard.append(_of_none(clause, said, vocabulary))
    return tuple(_back(list(_noted(_swapped(_spread(heard))))))


def _parted(text: str, vocabulary: Vocabulary) -> Iterator[Clause]:
    start, after = 0, "strong"
    for match in (*PARTING.finditer(text), None):
        end = match.start() if match else len(text)
        piece = text[start:end]
        if piece.strip():
            hits = tuple(vocabulary.drugs.hits(plain_words(words_of(piece))))
            yield Clause(start, end, piece, hits, after)
        if match:
            start, after = match.end(), str(match.lastgroup)


def _is_by_vein(clause: Clause) -> bool:
    """Blood and parenteral nutrition are given by vein alone, whatever else is fed by tube."""
    return any(hit.meaning.data.get("kind") for hit in clause.hits)


def _of_names(clause: Clause, said: Said, vocabulary: Vocabulary) -> Iterator[Clause]:
    """The clause with what it says of its names; in two where that is said of some only."""
    words_before = _count(clause.text[: said.start])
    if said.stands in ("runs", "elsewhere"):
        leads = words_before <= clause.hits[0].start and said.stands == "elsewhere"
        yield replace(clause, stands=said.stands, said=True, before=leads)
        return
    if _of_a_fluid(clause, said, vocabulary):
        yield clause
        return
    earlier = tuple(hit for hit in clause.hits if hit.start < words_before)
    later = clause.hits[len(earlier) :]
    if said.leads and not later:
        yield clause
        return
    if not earlier or not later:
        yield replace(clause, stands=said.stands, said=True, before=not earlier)
        return
    at = said.start if said.leads else said.end
    cut = clause.start + at
    first = replace(clause, end=cut, text=clause.text[:at], hits=earlier)
    second = Clause(cut, clause.end, clause.text[at:], later, "weak")
    if said.leads:
        second = replace(second, stands=said.stands, said=True, before=True)
    else:
        first = replace(first, stands=said.stands, said=True)
    yield from (first, second)


def _of_a_fluid(clause: Clause, said: Said, vocabulary: Vocabulary) -> bool:
    """Said of the fluid named between the drug and the word: "with fluids paused"."""
    words = plain_words(words_of(clause.text[: said.start]))
    behind = words[clause.hits[0].end :]
    beside = any(word in behind for word in BESIDE)
    return beside and (A_FLUID in behind or any(True for _ in vocabulary.fluids.hits(behind)))


def _of_none(clause: Clause, said: Said, vocabulary: Vocabulary) -> Clause:
    """A clause without drugs: said of the drug beside it, unless it tells of something else."""
    words = plain_words(words_of(clause.text[: said.start]))
    of_other = any(True for book in (vocabulary.fluids, vocabulary.conditions)
                   for _ in book.hits(words))  # fmt: skip
    is_bare = _count(clause.text) <= _count(clause.text[said.start : said.end])
    opens = clause.start == 0
    if said.leads or of_other or (said.needs_name and not (is_bare or opens)):
        return clause
    return replace(clause, stands=said.stands, said=True, before=is_bare)


def _count(text: str) -> int:
    return len(plain_words(words_of(text)))


def _spread(clauses: list[Clause]) -> list[Clause]:
    """A statement reaches over "and": "ramipril and furosemide held", "stopped a and b"."""
    spread = list(clauses)
    for at in range(1, len(spread)):
        last, this = spread[at - 1], spread[at]
        over = this.after == "weak" or (last.stands == "never" and _is_listed(clauses[at:]))
        if over and last.hits and last.before and this.hits and not this.said:
            spread[at] = replace(this, stands=last.stands, said=True, before=True)
    return _back(spread)


def _swapped(clauses: list[Clause]) -> list[Clause]:
    """What another drug is given instead of has ended."""
    return [
        replace(clause, stands="ended", said=True)
        if clause.hits and behind and behind.after == "swap" and behind.hits else clause
        for clause, behind in zip_longest(clauses, clauses[1:])
    ]  # fmt: skip


def _back(spread: list[Clause]) -> list[Clause]:
    for at in range(len(spread) - 1, 0, -1):
        last, this = spread[at - 1], spread[at]
        of_both = this.after == "weak" and this.said and this.hits and not this.before
        if of_both and last.hits and not last.said and not re.search(r"\d", last.text):
            spread[at - 1] = replace(last, stands=this.stands, said=True)
    return spread


def _is_listed(clauses: list[Clause]) -> bool:
    """True inside "no a, b or c"."""
    return any(LISTED.search(clause.text) for clause in clauses)


def _noted(clauses: list[Clause]) -> Iterator[Clause]:
    """What a clause without names says goes to the drug before it, or a bare word to the next."""
    told = list(clauses)
    for at, clause in enumerate(clauses):
        if clause.hits or not clause.said:
            continue
        named = [n for n in range(at) if told[n].hits]
        if named:
            told[named[-1]] = _told(told[named[-1]], clause)
        elif clause.before and at + 1 < len(told):
            told[at + 1] = _told(told[at + 1], clause)
    yield from told


def _told(named: Clause, note: Clause) -> Clause:
    """Running again outweighs what was; what is said of the drug itself outweighs a note."""
    if note.stands == "runs":
        return replace(named, stands="runs", said=True) if named.stands == "ended" else named
    is_told = named.said and named.stands != "elsewhere"
    return named if is_told else replace(named, stands=note.stands, said=True)


def standing_of(clauses: tuple[Clause, ...]) -> Stands:
    """How the whole stands: it runs as soon as one thing named does."""
    named = [clause for clause in clauses if clause.hits] or [c for c in clauses if c.said]
    if not named or any(clause.stands == "runs" for clause in named):
        return "runs"
    return named[0].stands


def without_dead(text: str, clauses: tuple[Clause, ...]) -> str:
    """The text without the clauses that tell of what does not run."""
    for clause in reversed(clauses):
        if clause.stands != "runs":
            text = f"{text[: clause.start]} {text[clause.end :]}"
    return text
