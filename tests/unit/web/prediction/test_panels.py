"""Each quantity has its picture, its table and its sentence, and every one of them has the band."""

import pytest

from app.physiology.course.course import Band, Course
from app.web.pictures.curves import Result
from app.web.prediction.panels import QUANTITIES, curves_of, panel_of, told_at, value_at

SODIUM = QUANTITIES[0]
PLASMA = next(q for q in QUANTITIES if q.name == "Plasma volume")


def course(first: float, last: float, key: str = "sodium_mmol_l") -> Course:
    band = Band((first, last), (first, last - 1), (first, last + 1))
    return Course((0.0, 240.0), {key: band})


def test_every_value_of_the_table_has_its_band() -> None:
    panel = panel_of(SODIUM, curves_of(SODIUM, {"A": course(140, 144)}), ())
    assert [row.at for row in panel.rows] == ["now", "30 min", "1 h", "2 h", "4 h"]
    last = panel.rows[-1].cells[0]
    assert (str(last.mid), last.band) == ("144", "143 to 145")
    assert str(panel.rows[3].cells[0].mid) == "142"


def test_two_bags_stand_side_by_side_under_their_marks() -> None:
    panel = panel_of(SODIUM, curves_of(SODIUM, {"A": course(140, 144), "B": course(140, 138)}), ())
    assert panel.marks == ("A", "B")
    assert panel.spoken == (
        "Sodium mmol/L. A: 140 now, 144 (143 to 145) at 4 h. B: 140 now, 138 (137 to 139) at 4 h"
    )


def test_a_bag_alone_needs_no_mark() -> None:
    panel = panel_of(SODIUM, curves_of(SODIUM, {"A": course(140, 144)}), ())
    assert panel.marks == ("",)
    assert panel.spoken.startswith("Sodium mmol/L. 140 now")


def test_volumes_are_told_in_litres() -> None:
    (curve,) = curves_of(PLASMA, {"A": course(2500, 2900, PLASMA.key)})
    assert curve.mid == (2.5, 2.9)


def test_a_result_says_what_it_is_of() -> None:
    panel = panel_of(SODIUM, curves_of(SODIUM, {"A": course(140, 144)}), [Result(0, 140, "now")])
    assert panel.plot.dots[0].title == "Sodium now"


def test_only_times_within_what_is_looked_ahead_are_told() -> None:
    assert told_at(8) == (0, 0.5, 1, 2, 4, 8)
    assert told_at(24)[-1] == 24


@pytest.mark.parametrize(("hours", "value"), [(0, 140), (1, 141), (4, 144), (9, 144)])
def test_between_two_steps_a_value_lies_on_their_line(hours: float, value: float) -> None:
    (curve,) = curves_of(SODIUM, {"A": course(140, 144)})
    assert value_at(curve, curve.mid, hours) == pytest.approx(value)
