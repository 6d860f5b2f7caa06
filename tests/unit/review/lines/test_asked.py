"""A line-plan request read; what is wrong is named by its field."""

from typing import Any

import pytest

from app.intake.errors import InputError, InputErrors
from app.lines.model import Infusion, KeepApart, Lumen, Problem
from app.review.lines.asked import read_lines
from tests.unit.review.lines.shift import REQUEST, changed


def refused(request: dict[str, Any]) -> dict[str, str]:
    """What is accepted instead, by field."""
    with pytest.raises((InputError, InputErrors)) as caught:
        read_lines(request)
    problem = caught.value
    errors = problem.errors if isinstance(problem, InputErrors) else (problem,)
    return {error.field: error.accepted for error in errors}


def test_the_request_of_the_interface_page_is_understood() -> None:
    asked = read_lines(REQUEST)
    assert asked.problem == Problem(
        720, 5, 0,
        (Lumen("p1", "peripheral"),),
        (
            Infusion("lr", "lactated Ringer's 100 mL/h", "continuous",
                     may_pause=True, max_pause_min=240),
            Infusion("cef", "ceftriaxone", "intermittent", 60, 120, 480),
            Infusion("rbc", "red cells", "blood", 180, 0, 720, exclusive=True,
                     may_share_with_exclusive=frozenset({"ns"})),
        ),
        (KeepApart(("lr", "cef")),),
    )  # fmt: skip
    assert not asked.use_catalogue
    assert [note.field for note in asked.notes] == ["infusions[2].may_share_with_exclusive"]


def test_what_is_not_said_is_as_usual() -> None:
    request = {
        "lumens": [{"id": 1, "site": "central"}],
        "infusions": [{"id": 7, "kind": "intermittent", "duration_min": "30 min"}],
    }
    problem = read_lines(request).problem
    assert (problem.horizon_min, problem.step_min, problem.flush_min) == (720, 5, 0)
    assert problem.lumens == (Lumen("1", "central"),)
    assert problem.infusions == (Infusion("7", "7", "intermittent", 30),)
    assert problem.most_at_once is None


def test_everything_more_that_may_be_said_is_read() -> None:
    request = changed("infusions.1.role", "vasoactive")
    request["infusions"][1] |= {"stays_on": "p1", "order_id": "o1", "beside": "lr"}
    request["lumens"][0]["role"] = "vasoactive"
    request["most_at_once"] = 3
    problem = read_lines(request).problem
    dose = problem.infusions[1]
    assert (dose.role, dose.stays_on, dose.order_id, dose.beside) == (
        "vasoactive", "p1", "o1", "lr",
    )  # fmt: skip
    assert problem.lumens[0].role == "vasoactive"
    assert problem.most_at_once == 3


@pytest.mark.parametrize(
    ("place", "value", "field"),
    [
        ("lumens", [], "lumens"),
        ("lumens", None, "lumens"),
        ("lumens", "p1", "lumens"),
        ("infusions", [], "infusions"),
        ("lumens", [{"id": "p1", "site": "peripheral"}] * 21, "lumens"),
        ("lumens.0.site", "arterial", "lumens[0].site"),
        ("lumens.0.site", None, "lumens[0].site"),
        ("lumens.0.id", None, "lumens[0].id"),
        ("lumens.0.role", "spare", "lumens[0].role"),
        ("infusions.0.id", "cef", "infusions[1].id"),
        ("infusions.1.id", None, "infusions[1].id"),
        ("infusions.1.kind", "bolus", "infusions[1].kind"),
        ("infusions.1.kind", None, "infusions[1].kind"),
        ("infusions.1.duration_min", -60, "infusions[1].duration_min"),
        ("infusions.1.duration_min", 0, "infusions[1].duration_min"),
        ("infusions.1.duration_min", None, "infusions[1].duration_min"),
        ("infusions.1.duration_min", 7.5, "infusions[1].duration_min"),
        ("infusions.1.earliest_start_min", -5, "infusions[1].earliest_start_min"),
        ("infusions.1.latest_end_min", 150, "infusions[1].latest_end_min"),
        ("infusions.1.latest_end_min", 100, "infusions[1].latest_end_min"),
        ("infusions.1.duration_min", 361, "infusions[1].latest_end_min"),
        ("infusions.0.max_pause_min", -1, "infusions[0].max_pause_min"),
        ("infusions.0.may_pause", "yes", "infusions[0].may_pause"),
        ("infusions.2.exclusive", 1, "infusions[2].exclusive"),
        ("infusions.2.may_share_with_exclusive", [None],
         "infusions[2].may_share_with_exclusive[0]"),
        ("infusions.1.beside", "nothing", "infusions[1].beside"),
        ("infusions.1.beside", "rbc", "infusions[1].beside"),
        ("infusions.0.beside", "lr", "infusions[0].beside"),
        ("keep_apart.0.pair", ["lr", "heparin"], "keep_apart[0].pair"),
        ("keep_apart.0.pair", ["lr", "lr"], "keep_apart[0].pair"),
        ("keep_apart.0.pair", ["lr"], "keep_apart[0].pair"),
        ("keep_apart.0.pair", ["lr", "cef", "rbc"], "keep_apart[0].pair"),
        ("keep_apart.0.pair", None, "keep_apart[0].pair"),
        ("keep_apart.0.scope", "ward", "keep_apart[0].scope"),
        ("keep_apart", ["lr"], "keep_apart[0]"),
        ("horizon_min", 0, "horizon_min"),
        ("horizon_min", "long", "horizon_min"),
        ("step_min", 0, "step_min"),
        ("step_min", 721, "step_min"),
        ("flush_min", -1, "flush_min"),
        ("flush_min", 721, "flush_min"),
        ("use_catalogue", "no", "use_catalogue"),
        ("most_at_once", 0, "most_at_once"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_field(place: str, value: object, field: str) -> None:
    assert field in refused(changed(place, value))


def test_a_lumen_named_twice_is_refused() -> None:
    request = changed("lumens", [{"id": "p1", "site": "central"}] * 2)
    assert refused(request) == {"lumens[1].id": "an id that no other has"}


def test_a_window_shorter_than_its_dose_says_how_long_it_must_be() -> None:
    said = refused(changed("infusions.1.latest_end_min", 150))
    assert said == {"infusions[1].latest_end_min": "a window of at least 60 min from 120 min on"}


def test_without_an_end_the_window_ends_with_the_plan_and_the_dose_is_named() -> None:
    request = changed("infusions.1.latest_end_min", None)
    request["infusions"][1]["earliest_start_min"] = 700
    said = refused(request)
    assert list(said) == ["infusions[1].duration_min"]
    assert "the plan ends at 720 min" in said["infusions[1].duration_min"]


def test_a_window_that_holds_no_step_is_told_and_the_dose_starts_as_early_as_it_may() -> None:
    request = changed("infusions.1.earliest_start_min", 121)
    request["infusions"][1]["latest_end_min"] = 184
    told = {note.field: note.text for note in read_lines(request).notes}
    assert told["infusions[1].earliest_start_min"].endswith("it starts at 121.")


def test_names_that_no_infusion_has_are_told_once_however_many_they_are() -> None:
    request = changed("infusions.2.may_share_with_exclusive", [f"n{at}" for at in range(1000)])
    (note,) = read_lines(request).notes
    assert note.field == "infusions[2].may_share_with_exclusive"
    assert "these ids" in note.text
    assert len(note.written) < 100


def test_of_a_continuous_infusion_no_length_is_no_fault_and_one_below_nought_is() -> None:
    assert read_lines(changed("infusions.0.duration_min", 0)).problem == read_lines(REQUEST).problem
    assert list(refused(changed("infusions.0.duration_min", -5))) == ["infusions[0].duration_min"]


def test_where_there_are_too_many_infusions_no_pair_is_blamed_for_it() -> None:
    many = [{"id": number, "kind": "continuous"} for number in range(10_000)]
    assert list(refused(changed("infusions", many))) == ["infusions"]


def test_a_circle_of_carriers_is_refused() -> None:
    request = changed("infusions.1", {"id": "cef", "kind": "continuous", "beside": "lr"})
    request["infusions"][0]["beside"] = "cef"
    assert set(refused(request)) == {"infusions[0].beside", "infusions[1].beside"}


def test_everything_wrong_is_told_at_once() -> None:
    request = changed("infusions.1.duration_min", -60)
    request["keep_apart"][0]["pair"] = ["lr", "heparin"]
    assert set(refused(request)) == {"infusions[1].duration_min", "keep_apart[0].pair"}


@pytest.mark.parametrize(
    ("place", "value", "field", "says"),
    [
        ("infusions.0.duration_min", 60, "infusions[0].duration_min", "runs throughout"),
        ("infusions.1.stays_on", "p9", "infusions[1].stays_on", "taken as gone"),
        ("infusions.2.latest_end_min", 900, "infusions[2].latest_end_min", "the window is cut"),
        ("infusions.2.duration_min", 300, "infusions[2].duration_min", "within 240 min"),
        ("infusions.1.rate", 20, "infusions[1].rate", "not known"),
        ("nurse", "me", "nurse", "not known"),
        ("lumens.0.gauge", 20, "lumens[0].gauge", "not known"),
    ],
)
def test_what_is_doubtful_or_not_used_is_noted(
    place: str, value: object, field: str, says: str
) -> None:
    notes = {note.field: note.text for note in read_lines(changed(place, value)).notes}
    assert says in notes[field]
