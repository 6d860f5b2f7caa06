"""Parts add up in any order and grouping, and the same twice differs in nothing."""

from hypothesis import given
from hypothesis import strategies as st

from app.review.replay.answer import UNREAD, Answer, AnswerRow, Past
from app.review.replay.tally import One, Tally, merged, tally_of
from tests.conftest import NOW

LEVELS = ("critical", "warning", "info")
ROWS = st.builds(
    AnswerRow,
    st.sampled_from(("k-hyper", "na-rate", "ord-water-total")),
    st.sampled_from((("o1",), ("o2",), ("o1", "o2"))),
    st.sampled_from(LEVELS),
    st.just("it speaks"),
)
ANSWERS = st.one_of(
    st.just(UNREAD),
    st.builds(
        Answer,
        st.lists(ROWS, max_size=5, unique_by=lambda row: row.key).map(tuple),
        st.integers(0, 3),
    ),
)
PLACES = st.tuples(
    st.sampled_from(("2031-03-01", "2031-03-02")), st.sampled_from(("ICU", "ED")), st.just("day")
)


@st.composite
def ones(draw: st.DrawFn) -> list[One]:
    """Some past requests with two answers each."""
    made = []
    for number in range(draw(st.integers(0, 12))):
        where = draw(PLACES)
        past = Past(number, NOW, {"orders": [{}] * draw(st.integers(0, 3))}, where[1])
        made.append(One(past, draw(ANSWERS), draw(ANSWERS), where))
    return made


def tally(some: list[One]) -> Tally:
    return tally_of(some, "seed", every_loud_row=True)


@given(ones(), st.randoms(use_true_random=False), st.integers(1, 5))
def test_parts_add_up_to_the_whole_in_any_order(some: list[One], chance: object, size: int) -> None:
    whole = tally(some)
    shuffled = list(some)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    parts = [tally(shuffled[at : at + size]) for at in range(0, len(shuffled), size)]
    assert merged(parts) == whole


@given(ones(), ones(), ones())
def test_adding_is_associative_commutative_and_has_a_nought(
    a: list[One], b: list[One], c: list[One]
) -> None:
    x, y, z = tally(a), tally(b), tally(c)
    assert (x + y) + z == x + (y + z)
    assert x + y == y + x
    assert x + Tally() == x


@given(st.lists(st.tuples(ANSWERS, PLACES), max_size=8))
def test_the_same_before_and_after_gives_nothing(
    some: list[tuple[Answer, tuple[str, ...]]],
) -> None:
    same = [
        One(Past(n, NOW, {"orders": [{}]}, where[1]), answer, answer, where)  # type: ignore[arg-type]
        for n, (answer, where) in enumerate(some)
    ]
    found = tally_of(same, "seed")
    assert found.is_nothing
    assert found.sample == ()
    assert found.before == found.after


@given(ones())
def test_every_row_that_differs_is_counted_once(some: list[One]) -> None:
    """Rows after = rows before + those that appear − those that vanish, at every level."""
    found = tally(some)
    for level in LEVELS:
        change = sum(
            n * ((to == level) - (was == level)) for (_, _, was, to), n in found.changes.items()
        )
        assert found.after.rows((level,)) == found.before.rows((level,)) + change
