"""The published bedside formulas for the bags tried, beside what their curves say, and why."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.physiology.course.body import Subject
from app.physiology.course.course import Course
from app.physiology.course.loads import Load, Loss
from app.web.prediction.asked import Bag
from app.web.prediction.pencil.acid_base import acid_base_rows
from app.web.prediction.pencil.rates import rate_rows
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.pencil.sodium import Aim, sodium_rows
from app.web.prediction.pencil.tried import Tried, when
from app.web.prediction.pencil.water import water_rows
from app.web.prediction.person import Person
from app.web.show import amount, number


@dataclass(frozen=True, slots=True)
class ByHand:
    """A row for each formula. moments: the head of each column of the curve's figures.

    two: there are two bags, so that each figure needs its mark. of: whom the figures are for.
    """

    rows: tuple[HandRow, ...]
    moments: tuple[str, ...]
    two: bool
    of: str


def by_hand(  # noqa: PLR0913 - all that a page knows of what is tried
    bags: Sequence[Bag],
    volume_ml: float,
    minutes: float,
    person: Person,
    subject: Subject,
    courses: Mapping[str, Course],
    *,
    beside: Sequence[Load] = (),
    losses: Sequence[Loss] | None = None,
    aim: Aim | None = None,
) -> ByHand:
    """What is worked by hand for each bag. courses: by the bag's mark; at least one bag.

    beside: what else runs on the courses. losses: theirs; the person's urine when not given. aim:
    the limit of the day.
    """
    if losses is None:
        losses = () if person.urine_ml_h is None else (Loss("urine", person.urine_ml_h),)
    tried = [
        Tried(
            mark=bag.mark,
            bag=bag.load(volume_ml, minutes),
            subject=subject,
            course=courses[bag.mark],
            beside=tuple(beside),
            losses=tuple(losses),
        )
        for bag in bags
    ]
    rows = (*sodium_rows(tried, aim), *water_rows(tried), *rate_rows(tried), *acid_base_rows(tried))
    return ByHand(rows, _heads(tried[0]), len(tried) > 1, _of(tried[0]))


def _heads(one: Tried) -> tuple[str, ...]:
    """A column's head: when, and whether the bag still runs."""
    first = f"{when(one.end_min)}, {'still running' if one.runs_on else 'bag in'}"
    return (first, *(when(moment) for moment in one.moments[1:]))


def _of(one: Tried) -> str:
    water = amount(one.subject.water_l, "L")
    given = ""
    if one.runs_on:
        given = f", for the {number(one.given_l, 2)} L that is in by {when(one.last_min)}"
    return f"{amount(one.subject.weight_kg, 'kg')} with {water} of body water{given}"
