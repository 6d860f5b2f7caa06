"""Which limit a course passes and when, judged to the whole mmol/L as the rules judge."""

from app.web.pictures.curves import Curve
from app.web.prediction.sodium.reach import Reach, reach_of, stands
from tests.unit.web.prediction.sodium.test_limits import limits, person


def curve(*mid: float, over: float = 0.0, mark: str = "") -> Curve:
    hours = tuple(6.0 * place for place in range(len(mid)))
    return Curve(mark, hours, mid, tuple(m - over for m in mid), tuple(m + over for m in mid))


def test_a_middle_that_passes_is_likely_and_a_band_that_passes_is_not() -> None:
    day = limits(118)
    assert reach_of(curve(118, 124, 127, 127), day) == Reach("", "rise_mmol_l_day", 12, True)
    assert reach_of(curve(118, 124, 125, 125, over=2), day) == Reach(
        "", "rise_mmol_l_day", 12, False
    )
    assert reach_of(curve(118, 124, 125, 125, over=1), day) == Reach("")


def test_the_highest_limit_passed_is_told_even_if_by_the_band_alone() -> None:
    found = reach_of(curve(118, 124, 127, 127, over=3), limits(118))
    assert (found.name, found.likely) == ("rise_critical_mmol_l_day", False)


def test_what_reads_as_the_limit_has_not_passed_it() -> None:
    assert reach_of(curve(118, 126.4), limits(118)).name == ""
    assert reach_of(curve(118, 126.5), limits(118)).name == "rise_mmol_l_day"


def test_a_fall_passes_its_limit_from_above() -> None:
    assert reach_of(curve(158, 150, 147), limits(158)) == Reach("", "fall_mmol_l_day", 12, True)
    assert reach_of(curve(158, 150, 149), limits(158)).name == ""


def test_where_no_limit_counts_none_is_passed() -> None:
    assert reach_of(curve(122, 140), limits(122, person("diabetic_ketoacidosis"))).name == ""


def test_where_sodium_stands_at_six_twelve_and_twenty_four_hours() -> None:
    rows = stands([curve(118, 122, 126, 127, 127, over=1)], limits(118))
    assert [row.at for row in rows] == ["6 h", "12 h", "24 h"]
    assert [str(row.cells[0].mid) for row in rows] == ["122", "126", "127"]
    assert rows[0].cells[0].band == "121 to 123"
    assert rows[0].most == ("126", "128")
    assert [row.passed[0] for row in rows] == ["", "band past 126", "past 126"]


def test_a_shorter_look_ends_where_it_ends() -> None:
    assert [row.at for row in stands([curve(118, 122)], limits(118))] == ["6 h"]
