"""At a glance: now, when the bag is in and at the end, each with its band; B against A."""

from app.physiology.course.bands import Band
from app.physiology.course.course import Course
from app.web.prediction.glance import MAIN, Given, Glance, glance
from app.web.prediction.panels import QUANTITIES
from app.web.prediction.start.standing import Standing


def course(end: float) -> Course:
    """Everything begins at 100 and is `end` at 8 h, give or take 1."""
    mid = (100.0, (100 + end) / 2, end)
    band = Band(mid, tuple(m - 1 for m in mid), tuple(m + 1 for m in mid))
    return Course((0.0, 240.0, 480.0), {q.key: band for q in QUANTITIES})


def row_of(found: Glance) -> tuple[str, ...]:
    sodium = found.rows[0]
    cells = (f"{c.mid} ({c.band})" for m in sodium.moments for c in m.cells)
    return (sodium.now, *cells)


def test_one_bag_has_a_figure_now_at_its_end_and_at_the_end() -> None:
    found = glance({"A": course(108)}, Given(240))
    assert found.moments == ("bag in, 4 h", "8 h")
    assert row_of(found) == ("100", "104 (103 to 105)", "108 (107 to 109)")
    assert [row.name for row in found.rows] == [q.name for q in QUANTITIES if q.key in MAIN]
    assert found.rows[0].moments[0].apart == ""


def test_two_bags_stand_side_by_side_with_what_b_has_less_a() -> None:
    found = glance({"A": course(108), "B": course(100)}, Given(240))
    assert found.marks == ("A", "B")
    assert [m.apart for m in found.rows[0].moments] == ["−4", "−8"]
    same = glance({"A": course(108), "B": course(108)}, Given(240))
    assert [m.apart for m in same.rows[0].moments] == ["alike", "alike"]


def test_a_bag_that_runs_on_has_one_moment_and_says_so() -> None:
    assert glance({"A": course(108)}, Given(600)).moments == ("8 h, still running",)
    assert glance({"A": course(108)}, Given(480)).moments == ("8 h, bag in",)


def test_a_start_that_is_no_result_says_what_it_is() -> None:
    begins = {"sodium_mmol_l": Standing("assumed"), "ph": Standing("assumed", "no result")}
    found = glance({"A": course(108)}, Given(240, begins))
    assert (found.rows[0].name, found.rows[0].basis) == ("Sodium", "assumed")
    assert "pH" not in [row.name for row in found.rows]


def test_a_bolus_is_told_soon_after_its_end_with_what_is_left_of_it_in_plasma() -> None:
    found = glance({"A": course(108)}, Given(15, bolus_ml=500))
    assert found.moments == ("bag in, 15 min", "30 min", "1 h", "4 h", "8 h")
    assert found.still is not None
    assert found.still.name == "Of 500 mL, in plasma"
    assert [str(m.cells[0].mid) for m in found.still.moments][:2] == ["0", "0"]
    two = glance({"A": course(108), "B": course(100)}, Given(15, bolus_ml=500))
    assert two.moments == ("bag in, 15 min", "4 h", "8 h")


def test_times_are_rounded_to_the_minute_once() -> None:
    assert glance({"A": course(108)}, Given(20.0000001)).moments[0] == "bag in, 20 min"
    assert glance({"A": course(108)}, Given(19.9999999)).moments[0] == "bag in, 20 min"
