"""Which of several infusions may not share a lumen, and why: what a line plan starts from. Pure.

No data keeps apart, and so does a condition that nobody here has confirmed.
"""

from collections.abc import Iterable
from itertools import combinations
from typing import Final, NamedTuple

from app.catalogue.pairs.answer import PairAnswer, PairBook
from app.catalogue.pairs.fact import Scope
from app.cautions.phrases import lowered
from app.patient.case import Case
from app.patient.known import NotKnown
from app.review.pairs.things import Thing, things_of
from app.review.pairs.told import told_of
from app.review.pairs.words import line_of

NOBODY_TOLD: Final = "nobody has told us of these two"
NOT_CONFIRMED: Final = "which nobody here has confirmed"
AGE_NOT_TOLD: Final = "to a newborn not both at all, and the age is not told"


class Apart(NamedTuple):
    """Two infusions that may not share a lumen. scope: patient where not both may be given."""

    a_id: str
    b_id: str
    scope: Scope
    why: str


def keep_apart(
    things: Iterable[Thing], book: PairBook, *, newborn: bool = False
) -> tuple[Apart, ...]:
    """Every two of several things that may not be on one lumen at the same time, with the reason
    in words; each pair once, in the order of the things.
    """
    return tuple(
        apart
        for one, other in combinations(things, 2)
        if (apart := _apart(one, other, book, newborn=newborn)) is not None
    )


def keep_apart_in(case: Case, book: PairBook) -> tuple[Apart, ...]:
    """keep_apart() of everything that runs in a patient; ids are those of things_of()."""
    things, newborn = things_of(case), is_newborn(case)
    if newborn is None:
        return keep_apart_at_any_age(things, book)
    return keep_apart(things, book, newborn=newborn)


def keep_apart_at_any_age(things: Iterable[Thing], book: PairBook) -> tuple[Apart, ...]:
    """keep_apart() where the age is not told: newborns' own facts do not bar, and the reason says
    so.
    """
    known = tuple(things)
    barred = {a[:2] for a in keep_apart(known, book, newborn=True) if a.scope == "patient"}
    apart = keep_apart(known, book)
    return tuple(_with_doubt(each) if each[:2] in barred else each for each in apart)


def is_newborn(case: Case) -> bool | None:
    """To 28 days of age; None where the age is not known."""
    try:
        return case.patient.is_neonate()
    except NotKnown:
        return None


def _with_doubt(apart: Apart) -> Apart:
    return apart._replace(why=f"{apart.why}; {AGE_NOT_TOLD}")


def _apart(one: Thing, other: Thing, book: PairBook, *, newborn: bool) -> Apart | None:
    for thing in (one, other):
        if not thing.is_understood:
            why = f"{thing.name} is not understood, so nothing is known of it"
            return Apart(one.id, other.id, "lumen", why)
    told = told_of(book, one, other, newborn=newborn)
    if told is None or not told.answer.is_apart:
        return None
    return Apart(one.id, other.id, told.answer.scope, _why(told.answer))


def _why(answer: PairAnswer) -> str:
    """The reason in words, without an end mark: it stands after a colon."""
    part = answer.decisive
    line = line_of(part)
    if part.verdict == "no data":
        return NOBODY_TOLD
    if part.verdict == "only if":
        return f"{lowered(line.text.removesuffix('.'))}, {NOT_CONFIRMED}"
    if part.verdict == "in turn":
        return lowered(line.text.removesuffix("."))
    return line.rest.removesuffix(".") or "they are kept apart"
