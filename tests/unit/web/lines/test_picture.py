"""A plan as a picture: each lumen a row, each infusion a lane."""

from datetime import UTC, datetime

from app.web.lines.picture import fill_of, lumens_in, pictures_of
from tests.unit.web.lines.conftest import PageOf, PlanOf


def test_every_lumen_is_a_row_and_all_doses_of_one_order_one_lane(page_of: PageOf) -> None:
    pictures = page_of("25").pictures
    assert pictures is not None
    left, right = pictures.wide.rows
    assert (left.name, right.name) == ("Left forearm", "Right elbow")
    assert [lane.name for lane in left.lanes] == [
        "compound sodium lactate", "ceftriaxone", "metronidazole", "red cells",
    ]  # fmt: skip
    assert len(left.lanes[2].bars) == 2
    assert len(left.lanes[0].gaps) == 2
    assert len(left.notches) == 6


def test_the_same_is_drawn_for_a_hand(page_of: PageOf) -> None:
    pictures = page_of("25").pictures
    assert pictures is not None
    assert pictures.narrow.width < pictures.wide.width
    assert [row.name for row in pictures.narrow.rows] == [row.name for row in pictures.wide.rows]


def test_what_never_stops_blood_doses_and_fluids_are_told_apart(plan_of: PlanOf) -> None:
    bedside = plan_of("25").bedside
    assert [fill_of(bedside, item) for item in bedside.items] == [
        "fluid", "kept", "dose", "dose", "dose", "blood",
    ]  # fmt: skip


def test_new_cannulas_stand_after_the_lumens_there_are(plan_of: PlanOf) -> None:
    made = plan_of("25", "left forearm")
    assert made.found.solution.plan is not None
    assert lumens_in(made, made.found.solution.plan) == ("right elbow", "new1")


def test_no_plan_has_no_picture(plan_of: PlanOf) -> None:
    assert pictures_of(plan_of("20"), datetime(2031, 3, 4, tzinfo=UTC)) is None
