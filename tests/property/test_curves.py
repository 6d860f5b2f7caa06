"""What holds for every picture of a course, whatever the figures."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from app.web.pictures.curves import Curve, Plot, Result, Scale, draw, steps
from app.web.pictures.field import LETTER, LINE
from app.web.pictures.limit_lines import Bound

SLACK = 1e-6
values = st.floats(-500, 50_000, allow_nan=False).map(lambda v: round(v, 3))
POINTS = 4
HOURS = (0.0, 1.0, 5.0, 24.0)


def curve(mark: str) -> st.SearchStrategy[Curve]:
    line = st.tuples(*[values] * POINTS)
    return st.builds(Curve, mark=st.just(mark), hours=st.just(HOURS), mid=line, low=line, high=line)


curves = st.one_of(st.tuples(curve("")), st.tuples(curve("A"), curve("B")))
results = st.lists(
    st.builds(Result, hours=st.floats(-100, 30), value=values, title=st.just("a result")),
    max_size=6,
)
bounds = st.lists(
    st.builds(
        Bound,
        value=values,
        from_h=st.floats(-30, 10),
        to_h=st.floats(10, 40),
        words=st.text("abc +8", max_size=90),
        title=st.just("a limit"),
    ),
    max_size=3,
)
plots = st.builds(
    draw, curves, results, bounds, st.builds(Scale, st.integers(0, 2), st.floats(0.1, 20))
)


@given(plots)
def test_nothing_is_drawn_outside_the_field(plot: Plot) -> None:
    points = [p for track in plot.tracks for p in (*track.line, *track.band)]
    points += [(dot.x, dot.y) for dot in plot.dots]
    points += [(x, limit.y) for limit in plot.bounds for x in (limit.x1, limit.x2)]
    for x, y in points:
        assert plot.left - SLACK <= x <= plot.right + SLACK
        assert plot.top - SLACK <= y <= plot.bottom + SLACK


@given(plots)
def test_no_word_leaves_the_picture(plot: Plot) -> None:
    assert all(plot.left - LETTER * len(tick.words) >= 0 for tick in plot.up)
    assert all(plot.right + LETTER * len(track.end) <= plot.width for track in plot.tracks)
    assert all(plot.left + LETTER * len(b.words) <= plot.right for b in plot.bounds)
    heights = [track.end_y for track in plot.tracks] + [b.words_y for b in plot.bounds]
    assert all(LINE / 2 - SLACK <= y <= plot.height - LINE / 2 for y in heights)


@given(plots)
def test_words_of_one_side_never_cover_each_other(plot: Plot) -> None:
    for heights in ([t.end_y for t in plot.tracks], [b.words_y for b in plot.bounds if b.words]):
        assert all(b - a >= LINE - SLACK for a, b in pairwise(sorted(heights)))


@given(plots)
def test_the_band_is_in_order_and_holds_its_line(plot: Plot) -> None:
    for track in plot.tracks:
        high, low = track.band[: len(track.line)], track.band[len(track.line) :][::-1]
        for (_, top), (_, middle), (_, bottom) in zip(high, track.line, low, strict=True):
            assert top - SLACK <= middle <= bottom + SLACK


@given(plots)
def test_ticks_rise_by_even_steps(plot: Plot) -> None:
    for ticks in (plot.up, plot.across):
        gaps = [b.at - a.at for a, b in pairwise(ticks)]
        assert all(abs(gap - gaps[0]) < SLACK for gap in gaps)


@given(st.floats(-1e5, 1e5), st.floats(0.05, 1e5))
def test_an_axis_covers_its_values_in_a_few_steps(low: float, span: float) -> None:
    ticks = steps(low, low + span)
    size = ticks[1] - ticks[0]
    assert ticks[0] <= low + size * SLACK
    assert ticks[-1] >= low + span - size * SLACK
    assert 2 <= len(ticks) <= 6
