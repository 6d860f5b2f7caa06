"""When each infusion runs, and what is said where that is not known."""

from collections.abc import Callable
from typing import Any

import pytest

from app.review.lines.bedside.problem import Means
from app.review.lines.bedside.timing import NO_LENGTH, NO_RATE, NOT_KNOWN, Piece, When, when_of
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, RED_CELLS, CaseOf

WhenOf = Callable[..., When]
STARTED = "2031-03-04T05:00:00Z"


@pytest.fixture
def when(case_of: CaseOf, means: Means) -> WhenOf:
    """when(order or co_infusion): when the one thing of a case runs."""

    def told(thing: dict[str, Any], **patient: object) -> When:
        case = case_of(thing, **patient) if "fluid" in thing else case_of(co=[thing], **patient)
        (infusion,) = (*case.orders, *case.co_infusions)
        return when_of(infusion, case, means.vehicles)

    return told


def test_maintenance_runs_all_the_time(when: WhenOf) -> None:
    assert when(CALCIUM_FLUID) == When((Piece(),), runs=True)


def test_a_bag_that_ends_runs_for_what_is_left_and_may_be_held(when: WhenOf) -> None:
    bag = CALCIUM_FLUID | {
        "volume_ml": 500, "rate_ml_h": 125, "duration_h": 4, "starts_at": STARTED,
        "purpose": "replacement", "order_text": "500 mL over 4 h",
    }  # fmt: skip
    found = when(bag)
    assert found.pieces == (Piece(120, 0, 240, 0),)
    assert found.runs


def test_a_resuscitation_bag_is_never_held(when: WhenOf) -> None:
    bag = CALCIUM_FLUID | {
        "volume_ml": 500, "rate_ml_h": 125, "starts_at": STARTED, "purpose": "resuscitation",
    }  # fmt: skip
    assert when(bag).pieces == (Piece(120, 0, 120, 0),)


def test_a_bag_that_begins_later_begins_on_a_step(when: WhenOf) -> None:
    bag = CALCIUM_FLUID | {"starts_at": "2031-03-04T08:02:00Z"}
    (piece,) = when(bag).pieces
    assert (piece.earliest_min, piece.due_min) == (65, 65)
    assert not when(bag).runs


def test_what_is_due_after_the_shift_is_said_to_be(when: WhenOf) -> None:
    bag = CALCIUM_FLUID | {"starts_at": "2031-03-04T21:00:00Z"}
    assert when(bag) == When(later="due in 14 h")


def test_a_bag_that_should_be_in_is_to_be_looked_at(when: WhenOf) -> None:
    bag = CALCIUM_FLUID | {
        "volume_ml": 100, "rate_ml_h": 200, "starts_at": STARTED, "purpose": "resuscitation",
    }  # fmt: skip
    assert when(bag).why_not == "its 100 mL should be in by now: see whether it still runs"


def test_an_order_without_a_rate_is_said_not_to_be_planned(when: WhenOf) -> None:
    order = {"id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000}
    assert when(order).why_not == NO_RATE


def test_an_order_that_follows_another_has_no_known_time(when: WhenOf) -> None:
    follows = CALCIUM_FLUID | {"order_text": "second bag: compound sodium lactate 1 L, to follow"}
    assert when(follows).why_not == NOT_KNOWN


def test_a_dose_has_an_hour_on_either_side_of_each_of_its_times(when: WhenOf) -> None:
    found = when({"name": "metronidazole 500 mg over 30 min q8h", "kind": "drug"})
    assert found.pieces == (Piece(30, 0, 90, 0), Piece(30, 420, 570, 480))
    assert not found.runs


def test_what_nobody_wrote_of_a_dose_is_said(when: WhenOf) -> None:
    found = when({"name": "paracetamol 1 g", "kind": "drug"})
    assert "the usual 15 min is taken" in found.notes[0]
    assert "how often it is given is not written" in found.notes[1]


def test_a_drug_of_unknown_length_is_not_planned(when: WhenOf) -> None:
    assert when({"name": "the blue one", "kind": "drug"}).why_not == NO_LENGTH


@pytest.mark.parametrize(
    ("name", "kind"),
    [("norepinephrine 4 mg in 50 mL at 5 mL/h", "drug"), ("insulin 3 units/h", "drug"),
     ("parenteral nutrition 80 mL/h", "nutrition")],
)  # fmt: skip
def test_what_runs_all_the_time_needs_no_length(when: WhenOf, name: str, kind: str) -> None:
    assert when({"name": name, "kind": kind}) == When((Piece(),), runs=True)


def test_blood_starts_soon_and_runs_for_as_long_as_written(when: WhenOf) -> None:
    assert when(RED_CELLS).pieces == (Piece(120, 0, 210, 0),)


def test_units_of_blood_follow_each_other(when: WhenOf) -> None:
    found = when({"name": "red cells 2 units, each over 2 h", "kind": "blood"})
    first, second = found.pieces
    assert (first.duration_min, second.duration_min) == (120, 120)
    assert second.earliest_min >= first.duration_min
    assert second.latest_end_min == 125 + 90 + 120
