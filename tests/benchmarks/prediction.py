"""A day's prediction of 500 people against scipy solving the same equations for one person."""

from collections.abc import Callable

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from tests.reference.course.equations import Person

DAY_MIN = 1440.0
PEOPLE = 500
SUBJECT = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results={})
LITRE = Load(Composition(sodium_mmol_l=154, chloride_mmol_l=154), 1.0, 0, 60)


def predicted() -> object:
    """What the slider asks for."""
    return course_of(
        SUBJECT, [LITRE], [Loss("urine", 0.0)], horizon_min=DAY_MIN, step_min=30, samples=PEOPLE
    )


def solved() -> object:
    """One person's day by scipy's solver."""
    return Person(SUBJECT, [LITRE]).solved(DAY_MIN)


def figures(
    milliseconds: Callable[[Callable[[], object]], float], rounds: int
) -> tuple[float, float]:
    """Best of so many: ms of the prediction, and of 500 solutions as 500 times one."""
    predicted()
    ours = min(milliseconds(predicted) for _ in range(rounds))
    return ours, PEOPLE * min(milliseconds(solved) for _ in range(rounds))
