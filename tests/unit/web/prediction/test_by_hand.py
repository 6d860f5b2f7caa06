"""What is worked by hand stands beside the curve, for each bag and moment."""

import re
from html import unescape

import pytest
from fastapi import FastAPI

from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Loss
from app.web.prediction.asked import Bag
from app.web.prediction.by_hand import ByHand, by_hand
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.person import Person
from app.web.render import pages

MAN = Person(weight_kg=70, age_years=40, sex="male", results={"sodium": 140.0})


def worked(
    app: FastAPI,
    *fluids: str,
    person: Person = MAN,
    volume_ml: float = 1000,
    minutes: float = 240,
    horizon_h: float = 24,
) -> ByHand:
    catalogue, subject = app.state.knowledge.catalogue, person.subject()
    bags = [Bag(mark, catalogue.get(fluid), 0) for mark, fluid in zip("AB", fluids, strict=False)]
    losses = () if person.urine_ml_h is None else (Loss("urine", person.urine_ml_h),)
    courses: dict[str, Course] = {
        bag.mark: course_of(
            subject, (bag.load(volume_ml, minutes),), losses,
            horizon_min=horizon_h * 60, step_min=15, samples=20,
        )
        for bag in bags
    }  # fmt: skip
    return by_hand(bags, volume_ml, minutes, person, subject, courses)


def row(found: ByHand, formula_id: str) -> HandRow:
    return next(r for r in found.rows if r.formula_id == formula_id)


def test_each_bag_and_moment_has_its_figures(app: FastAPI) -> None:
    found = worked(app, "sodium-chloride-0.9", "lactated-ringers")
    assert found.moments == ("4 h, bag in", "24 h")
    assert found.two
    for one in found.rows:
        assert [cell.mark for cell in one.cells] == ["A", "B"], one.name
        assert all(len(cell.curve) == 2 for cell in one.cells), one.name


def test_a_bag_that_still_runs_is_worked_for_what_is_in(app: FastAPI) -> None:
    found = worked(app, "sodium-chloride-0.9", minutes=2880)
    assert found.moments == ("24 h, still running",)
    assert "for the 0.5 L that is in by 24 h" in found.of
    # (154 − 140) × 0.5 over 42.5 L, by hand.
    assert row(found, "sodium-change").cells[0].by_hand[0] == "+0.2 mmol/L"


@pytest.mark.parametrize(
    ("results", "wanted"),
    [
        ({"sodium": 140.0}, set()),
        ({"sodium": 118.0, "chloride": 84.0}, {"sodium-deficit"}),
        ({"sodium": 160.0, "chloride": 122.0}, {"water-deficit"}),
        ({"sodium": 131.0, "glucose": 30.0, "chloride": 96.0}, {"sodium-for-glucose"}),
    ],
)
def test_rows_of_a_disorder_come_with_the_disorder(
    app: FastAPI, results: dict[str, float], wanted: set[str]
) -> None:
    person = Person(weight_kg=70, age_years=40, sex="male", results=results)
    found = {r.formula_id for r in worked(app, "sodium-chloride-0.9", person=person).rows}
    assert found & {"sodium-deficit", "water-deficit", "sodium-for-glucose"} == wanted


def test_every_figure_is_on_the_page(app: FastAPI) -> None:
    class Outlook:
        by_hand = worked(app, "dextrose-5", "lactated-ringers")

    class View:
        outlook = Outlook

    page = pages.get_template("predict/_by_hand.html").render(view=View)
    text = unescape(re.sub(r"<[^>]+>", "", page))
    for one in Outlook.by_hand.rows:
        assert one.name in text
        for cell in one.cells:
            for line in (*cell.by_hand, *(line for lines in cell.curve for line in lines)):
                assert line in text
