"""What is known of pairs, among infusions that are given by name."""

from collections.abc import Mapping
from typing import Any

from app.catalogue.pairs.answer import PairBook
from app.intake.fluids import NameBook
from app.lines.model import KeepApart, Plan
from app.review.lines.leaning import leaning_of
from app.review.lines.planned import KeepApartOf, LeaningOf, LinePlan, plan_lines
from app.review.pairs.apart import keep_apart_at_any_age
from app.review.pairs.things import read_thing


def from_facts(names: NameBook, pairs: PairBook) -> KeepApartOf:
    """A function from names by id to every two of them that must be kept apart, and why.

    Kept apart: what a fact keeps apart, what may share a lumen only on a condition nobody has
    confirmed, what nobody has told us of, and a name that is not understood. No age is asked, so
    what must not both be given to a newborn says so.
    """

    def keep_apart_of(written: Mapping[str, str]) -> tuple[KeepApart, ...]:
        things = [read_thing(one, words, names) for one, words in written.items()]
        apart = keep_apart_at_any_age(things, pairs)
        return tuple(KeepApart((one.a_id, one.b_id), one.scope, one.why) for one in apart)

    return keep_apart_of


def leaning_from(names: NameBook, pairs: PairBook) -> LeaningOf:
    """A function from a plan and names by id to what pharmacy confirms of it, in sentences."""

    def leaning(plan: Plan, written: Mapping[str, str]) -> tuple[str, ...]:
        things = {one: read_thing(one, words, names) for one, words in written.items()}
        return leaning_of(plan, things, pairs)

    return leaning


def plan_with_facts(request: Mapping[str, Any], names: NameBook, pairs: PairBook) -> LinePlan:
    """plan_lines() with what is known of pairs."""
    table, leaning = from_facts(names, pairs), leaning_from(names, pairs)
    return plan_lines(request, keep_apart_of=table, leaning_of=leaning)
