"""The answers about several things, two by two. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from app.catalogue.pairs.answer import PairAnswer, PairBook
from app.catalogue.pairs.fact import STRICTEST_FIRST, Verdict
from app.review.pairs.things import Meant, Thing


@dataclass(frozen=True, slots=True)
class Told:
    """One pair with its answer. ambiguous: what else its words may mean has another answer;
    meant: the two that were answered, the strictest of what the words may mean.
    """

    one: Thing
    other: Thing
    meant: tuple[Meant, Meant]
    answer: PairAnswer
    ambiguous: bool = False


def told_of(book: PairBook, one: Thing, other: Thing, *, newborn: bool = False) -> Told | None:
    """The answer about two things; None when one of them is not understood.

    Words that may mean several things are answered as the strictest of them.
    """
    answers = [
        (meant, book.answer(meant[0].substance, meant[1].substance, newborn=newborn))
        for meant in product(one.meant, other.meant)
    ]
    if not answers:
        return None
    meant, answer = min(answers, key=lambda each: each[1].decisive.order)
    verdicts = {each.verdict for _, each in answers}
    return Told(one, other, meant, answer, ambiguous=len(verdicts) > 1)


def all_told(book: PairBook, things: Sequence[Thing], *, newborn: bool = False) -> tuple[Told, ...]:
    """Every two of several things that are understood, what keeps them apart first."""
    told = _two_by_two(book, things, newborn=newborn)
    return tuple(sorted(told, key=lambda each: each.answer.decisive.order))


def _two_by_two(book: PairBook, things: Sequence[Thing], *, newborn: bool) -> Iterator[Told]:
    for one, other in combinations(things, 2):
        told = told_of(book, one, other, newborn=newborn)
        if told is not None:
            yield told


def counted(told: Sequence[Told]) -> tuple[tuple[Verdict, int], ...]:
    """How many pairs have which verdict, the strictest first; none that no pair has."""
    verdicts = [each.answer.verdict for each in told]
    return tuple((v, verdicts.count(v)) for v in STRICTEST_FIRST if v in verdicts)
