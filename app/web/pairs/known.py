"""All that is known of one thing, or every fact in which some words stand, as a list."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairAnswer, PartAnswer
from app.catalogue.pairs.fact import PairFact, Verdict
from app.cautions.phrases import opening
from app.review.pairs.things import Thing
from app.review.pairs.words import fact_sentence, seen_sentence, source_words
from app.web.pairs.asked import address

# How a pair is drawn: the name of its sign, which the words beside it say too.
SIGNS: Final[Mapping[Verdict, str]] = {
    "keep apart": "apart", "in turn": "turn", "no data": "gap", "only if": "if",
    "may run together": "may",
}  # fmt: skip
# They may, and nobody here has read who says so: the line runs through and asks.
UNSEEN: Final = "unseen"
RULED: Final = "By a rule about what it holds, or what it is"


@dataclass(frozen=True, slots=True)
class KnownLine:
    """One fact in a list: what it says, how it was seen and by whom, and the page about the two."""

    sign: str
    sentence: str
    seen: str
    href: str


@dataclass(frozen=True, slots=True)
class KnownOf:
    """All that is known of one thing, by how closely it is named, or every fact in which its words
    stand. groups: each with its heading, empty where there is but one.
    """

    heading: str
    groups: tuple[tuple[str, tuple[KnownLine, ...]], ...]


def sign_of(answer: PairAnswer | PartAnswer) -> str:
    """How an answer is drawn."""
    return UNSEEN if answer.is_unseen else SIGNS[answer.verdict]


def known_of(thing: Thing, facts: Sequence[PairFact], catalogue: Catalogue) -> KnownOf:
    """Every fact about one thing; or, of words not understood, every fact in which they stand."""
    if not thing.is_understood:
        found = [fact for fact in facts if _holds(fact, thing.written, catalogue)]
        return KnownOf(
            f"Facts in which “{thing.written}” stands", _groups([("", found)], catalogue)
        )
    own, ruled = _about(thing, facts)
    groups = _groups([("", own), (RULED, ruled)], catalogue)
    return KnownOf(f"What is known of {thing.name}", groups)


def _about(thing: Thing, facts: Sequence[PairFact]) -> tuple[list[PairFact], list[PairFact]]:
    """The facts that name a thing, and those that speak of its marks or its kind."""
    parts = [part for meant in thing.meant for part in meant.substance.each()]
    names = {name for part in parts for name in part.names}
    words = {word for part in parts for word in part.ranks()}
    own = [fact for fact in facts if not names.isdisjoint((fact.a, fact.b))]
    ruled = [fact for fact in facts if not words.isdisjoint((fact.a, fact.b)) and fact not in own]
    return own, ruled


def _groups(
    groups: Sequence[tuple[str, list[PairFact]]], catalogue: Catalogue
) -> tuple[tuple[str, tuple[KnownLine, ...]], ...]:
    return tuple(
        (heading, tuple(_known_line(f, catalogue) for f in sorted(found, key=_strictness)))
        for heading, found in groups
        if found
    )


def _strictness(fact: PairFact) -> int:
    return fact.strictness


def _known_line(fact: PairFact, catalogue: Catalogue) -> KnownLine:
    seen = f"{seen_sentence(fact)} {opening(source_words(fact))}."
    href = "" if fact.is_general else address((fact.a, fact.b))
    unseen = fact.verdict == "may run together" and not fact.source.seen
    return KnownLine(
        UNSEEN if unseen else SIGNS[fact.verdict], fact_sentence(fact, catalogue), seen, href
    )


def _holds(fact: PairFact, words: str, catalogue: Catalogue) -> bool:
    text = f"{fact_sentence(fact, catalogue)} {fact.source.work}".lower()
    return all(word in text for word in words.lower().split())
