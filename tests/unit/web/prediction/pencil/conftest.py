"""A bag tried on a person, with few people drawn."""

from collections.abc import Callable

import pytest

from app.catalogue.catalogue import Catalogue
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from app.web.prediction.asked import Bag
from app.web.prediction.pencil.tried import Tried

Try = Callable[..., Tried]


def person(**results: float) -> Subject:
    return subject_of(weight_kg=70, age_years=40, sex="male", height_cm=None, results=results)


@pytest.fixture
def tried(catalogue: Catalogue) -> Try:
    """A litre over 4 h in a man of 70 kg, looked at for 12 h, unless it is said otherwise."""

    def make(  # noqa: PLR0913 - one for each thing that may be said otherwise
        fluid: str,
        *,
        volume_ml: float = 1000,
        minutes: float = 240,
        potassium_mmol: float = 0,
        losses: tuple[Loss, ...] = (),
        beside: tuple[Load, ...] = (),
        subject: Subject | None = None,
    ) -> Tried:
        entry, who = catalogue.get(fluid), subject or person()
        assert entry is not None
        bag = Bag("A", entry, potassium_mmol)
        load = bag.load(volume_ml, minutes)
        course = course_of(who, (load, *beside), losses, horizon_min=720, step_min=15, samples=10)
        return Tried("A", load, who, course, beside, losses)

    return make
