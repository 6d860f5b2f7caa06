"""At a glance: now, when the bag is in and at the end, each with its band; B against A."""

from app.physiology.course.bands import Band
from app.physiology.course.course import Course
from app.web.prediction.glance import MAIN, Glance, glance
from app.web.prediction.panels import QUANTITIES


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
    found = glance({"A": course(108)}, 240)
    assert found.moments == ("bag in, 4 h", "8 h")
    assert row_of(found) == ("100", "104 (103 to 105)", "108 (107 to 109)")
    assert [row.name for row in found.rows] == [q.name for q in QUANTITIES if q.key in MAIN]
    assert found.rows[0].moments[0].apart == ""


def test_two_bags_stand_side_by_side_with_what_b_has_less_a() -> None:
    found = glance({"A": course(108), "B": course(100)}, 240)
    assert found.marks == ("A", "B")
    assert [m.apart for m in found.rows[0].moments] == ["−4", "−8"]
    same = glance({"A": course(108), "B": course(108)}, 240)
    assert [m.apart for m in same.rows[0].moments] == ["alike", "alike"]


def test_a_bag_that_runs_on_has_one_moment_and_says_so() -> None:
    assert glance({"A": course(108)}, 600).moments == ("8 h, still running",)
    assert glance({"A": course(108)}, 480).moments == ("8 h, bag in",)
