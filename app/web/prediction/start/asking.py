"""What is asked of whoever is tried: what rules lack, how far to look, and what must be told."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from app.cautions.rule import Limits
from app.cautions.shared.insulin import insulin_runs
from app.patient.snapshot import ADULT_FROM_YEARS
from app.physiology.course.sizes import CHILD_BELOW_KG
from app.review.running.loads import Running
from app.web.comparison.cautions import FluidCautions
from app.web.errors import FieldFault
from app.web.prediction.asked import Asked
from app.web.prediction.fields import INSULIN, RUNS
from app.web.prediction.person import Person
from app.web.prediction.sodium.limits import HOURS_PER_DAY, day_limits
from app.web.prediction.start.standing import Asking
from app.web.show import number


def asking_of(
    asked: Asked, person: Person, cautions: Sequence[FluidCautions], beside: Running
) -> Asking:
    """Results that rules ask for and lack, and whether insulin runs that is not counted.

    Of a person out of a textbook nothing is asked: all of it is assumed, and said to be.
    """
    needs = frozenset(need for one in cautions for need in one.needs)
    warned = {
        bag.mark: frozenset(line.rule_id for line in one.lines)
        for bag, one in zip(asked.bags, cautions, strict=False)
    }
    return Asking(
        frozenset() if is_textbook(person) else needs,
        _is_left_out(asked, person, beside),
        MappingProxyType(warned),
    )


def _is_left_out(asked: Asked, person: Person, beside: Running) -> bool:
    """Insulin runs by what is on record or typed, and none of it is among what is counted."""
    counted = any(load.insulin_units for load in beside.loads) or bool(asked.values.get(INSULIN))
    on_record = person.case is not None and bool(person.called) and insulin_runs(person.case)
    return (on_record or bool(asked.typed.get(RUNS.name))) and not counted


def is_textbook(person: Person) -> bool:
    """True for somebody of whom nothing is told but size, age and sex."""
    return not person.called and not person.results and not person.conditions


def lacks_of(person: Person) -> Iterator[FieldFault]:
    """What must be told before anything is said: a child is no small adult."""
    years, weight_kg = person.age_years, person.weight_kg
    if years is not None and years < ADULT_FROM_YEARS and weight_kg is None:
        yield FieldFault("Weight", "", "needed for a child, kg")
    if years is None and weight_kg is not None and weight_kg < CHILD_BELOW_KG:
        told = f"needed under {number(CHILD_BELOW_KG)} kg: a child's body and limits are others"
        yield FieldFault("Age", "", told)


def for_a_day(asked: Asked, person: Person, limits: Mapping[str, Limits]) -> Asked:
    """A whole day ahead where sodium has limits of a day: within them for less says too much."""
    sodium = person.results.get("sodium")
    if sodium is None or asked.horizon_h >= HOURS_PER_DAY:
        return asked
    if not day_limits(person, sodium, limits).names:
        return asked
    typed = MappingProxyType({**asked.typed, "horizon": f"{HOURS_PER_DAY:g}"})
    return replace(asked, horizon_h=HOURS_PER_DAY, typed=typed)
