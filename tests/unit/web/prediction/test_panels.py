"""Each quantity has its picture, its table and its sentence, and every one of them has the band."""

from dataclasses import replace

import pytest

from app.physiology.course.course import Band, Course
from app.physiology.course.telling.withheld import Withheld
from app.web.pictures.curves import Curve, Result
from app.web.prediction.panels import (
    QUANTITIES,
    cell_at,
    curves_of,
    matters,
    panel_of,
    read_to,
    told_at,
    value_at,
)
from app.web.prediction.start.standing import Standing

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


def test_where_a_curve_turns_its_hour_is_spoken() -> None:
    mid = (4.0, 7.6, 6.9)
    band = Band(mid, tuple(m - 0.5 for m in mid), tuple(m + 0.5 for m in mid))
    potassium = QUANTITIES[1]
    peaked = Course((0.0, 120.0, 1440.0), {potassium.key: band})
    panel = panel_of(potassium, curves_of(potassium, {"A": peaked}), ())
    assert "4 now, highest 7.6 (7.1 to 8.1) at 2 h, 6.9 (6.4 to 7.4) at 24 h" in panel.spoken
    assert [turn.text for turn in panel.plot.turns] == ["7.6 at 2 h"]


def test_a_start_that_is_assumed_is_spoken_dotted_and_named() -> None:
    begins = Standing("assumed")
    curves = curves_of(SODIUM, {"A": course(140, 144)}, begins)
    panel = panel_of(SODIUM, curves, (), (), (begins, 4.0))
    assert "140 assumed now" in panel.spoken
    assert panel.basis == "assumed"
    assert panel.plot.tracks[0].assumed
    assert (
        not panel_of(SODIUM, curves_of(SODIUM, {"A": course(140, 144)}), ()).plot.tracks[0].assumed
    )


def test_a_course_is_drawn_as_far_as_it_may_be() -> None:
    mid = (140.0, 150.0, 185.0, 190.0)
    band = Band(mid, mid, mid)
    past = Withheld(SODIUM.key, 120.0, "nobody lives")
    far = Course((0.0, 60.0, 120.0, 240.0), {SODIUM.key: band}, withheld=(past,))
    (curve,) = curves_of(SODIUM, {"A": far})
    assert curve.hours == (0, 1, 2)
    assert str(cell_at(curve, 4, 1).mid) == "not drawn"
    assert str(cell_at(curve, 2, 0).mid) == "185"


@pytest.mark.parametrize(
    ("first", "last", "wide", "assumed", "found"),
    [
        (140, 140, 1.0, False, False),
        (140, 144, 1.0, False, True),
        (140, 140, 12.0, False, True),
        (140, 140, 12.0, True, False),
        (130, 130, 1.0, False, True),
    ],
)
def test_what_moves_more_than_its_band_or_is_out_of_range_is_drawn_first(
    first: float, last: float, wide: float, assumed: bool, found: bool
) -> None:
    low, high = (first, last - wide / 2), (first, last + wide / 2)
    curve = Curve("", (0.0, 4.0), (first, last), low, high, assumed)
    assert matters(SODIUM, [curve]) is found


def test_no_decimal_is_told_that_the_band_does_not_bear() -> None:
    wide = curves_of(SODIUM, {"A": course(140, 140.6)})
    assert read_to(SODIUM, wide).scale.places == 0
    narrow = [replace(wide[0], low=(140.0, 140.5), high=(140.0, 140.7))]
    assert read_to(SODIUM, narrow).scale.places == 1
    assert (
        read_to(PLASMA, curves_of(PLASMA, {"A": course(2500, 2900, PLASMA.key)})).scale.places == 1
    )
    assert read_to(PLASMA, curves_of(PLASMA, {"A": course(250, 290, PLASMA.key)})).scale.places == 2
