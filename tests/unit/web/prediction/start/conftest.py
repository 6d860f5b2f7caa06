"""Something tried: bags on a person, with their courses."""

from collections.abc import Callable, Mapping

import pytest
from fastapi import FastAPI

from app.catalogue.catalogue import Catalogue
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load
from app.review.knowledge import Knowledge
from app.web.prediction.asked import Asked, Bag
from app.web.prediction.person import Person
from app.web.prediction.start.drawn import Tried, begins_with
from app.web.prediction.start.standing import NOTHING_ASKED, Asking

TriedOf = Callable[..., Tried]
MINUTES = 60.0


@pytest.fixture
def knowledge(app: FastAPI) -> Knowledge:
    """Rules and limits as they are shipped."""
    found: Knowledge = app.state.knowledge
    return found


@pytest.fixture
def tried_of(catalogue: Catalogue) -> TriedOf:
    """tried_of("lactated-ringers", …, results={…}): 1 L over 4 h, seen for 8 h, in 70 kg."""

    def make(  # noqa: PLR0913 - each may be left out
        *fluids: str,
        results: Mapping[str, float] | None = None,
        conditions: frozenset[str] = frozenset(),
        volume_ml: float = 1000,
        minutes: float = 240,
        beside: tuple[Load, ...] = (),
        asking: Asking = NOTHING_ASKED,
    ) -> Tried:
        bags = []
        for mark, name in zip("AB", fluids, strict=False):
            fluid = catalogue.get(name)
            assert fluid is not None
            bags.append(Bag(mark, fluid, 0.0))
        asked = Asked(tuple(bags), volume_ml=volume_ml, minutes=minutes, horizon_h=8)
        person = Person(
            weight_kg=70, age_years=50, sex="male", results=results or {}, conditions=conditions
        )
        subject = person.subject()
        courses = {
            bag.mark: course_of(
                subject,
                (bag.load(volume_ml, minutes), *beside),
                horizon_min=8 * MINUTES,
                step_min=10,
                samples=60,
            )
            for bag in bags
        }
        begins = begins_with(person, subject, courses, asking)
        return Tried(asked, person, subject, courses, begins)

    return make
