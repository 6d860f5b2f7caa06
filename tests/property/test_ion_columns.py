"""What holds for every picture of ions, whatever the fluids."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.web.pictures.ion_columns import (
    HEIGHT,
    NOT_LISTED,
    VISIBLE,
    Column,
    Part,
    draw,
)
from app.web.pictures.marks import LINE_HEIGHT, Drawing

CATION_KEYS = ("sodium", "potassium", "calcium", "magnesium")
ANION_KEYS = (
    "chloride", "sulfate", "lactate", "acetate", "gluconate", "malate", "citrate", "bicarbonate",
    "phosphate", "proteins", "others",
)  # fmt: skip
SLACK = 1e-6


def parts(keys: tuple[str, ...]) -> st.SearchStrategy[tuple[Part, ...]]:
    charge = st.floats(0.1, 600, allow_nan=False)
    return st.lists(
        st.tuples(st.sampled_from(keys), charge), max_size=len(keys), unique_by=lambda p: p[0]
    ).map(
        lambda chosen: tuple(
            Part(key, key, charge, f"{charge:.3g}", key)
            for key, charge in sorted(chosen, key=lambda p: keys.index(p[0]))
        )
    )


columns = st.builds(
    Column,
    name=st.just("any fluid"),
    cations=parts(CATION_KEYS),
    anions=parts(ANION_KEYS),
    gap_from_meq_l=st.none() | st.floats(0, 600),
    gap=st.just("28"),
)
pictures = st.lists(columns, min_size=1, max_size=7).map(lambda chosen: draw(chosen))


def side(drawing: Drawing, x: float) -> list[float]:
    return [b.height for b in drawing.blocks if b.x == x]


@given(pictures)
def test_cations_and_anions_are_equally_high(picture: tuple[Drawing, ...]) -> None:
    for drawing in picture:
        cations, anions = side(drawing, drawing.cation_x), side(drawing, drawing.anion_x)
        assert sum(cations) == pytest.approx(sum(anions), abs=VISIBLE)


@given(pictures)
def test_no_label_covers_another(picture: tuple[Drawing, ...]) -> None:
    for drawing in picture:
        for place in ("left", "right"):
            heights = sorted(label.y for label in drawing.labels if label.place == place)
            assert all(b - a >= LINE_HEIGHT - SLACK for a, b in pairwise(heights))


@given(pictures)
def test_everything_stays_inside_the_picture(picture: tuple[Drawing, ...]) -> None:
    for drawing in picture:
        for block in drawing.blocks:
            assert block.x >= 0
            assert block.x + block.width <= drawing.width
            assert block.y >= -SLACK
            assert block.y + block.height <= HEIGHT
        for label in drawing.labels:
            assert 0 < label.x < drawing.width
            for middle, _ in label.baselines:
                assert LINE_HEIGHT / 2 - SLACK <= middle <= HEIGHT - LINE_HEIGHT / 2 + SLACK
            assert all(0 <= x <= drawing.width for x, _ in label.leader)


@given(pictures)
def test_every_ion_is_labelled_once(picture: tuple[Drawing, ...]) -> None:
    for drawing in picture:
        blocks = sorted(block.key for block in drawing.blocks)
        assert sorted(label.key for label in drawing.labels) == blocks


@given(columns)
def test_ions_keep_their_order_from_the_foot_up(column: Column) -> None:
    (drawing,) = draw([column])
    drawn = [block.key for block in drawing.blocks if block.key != NOT_LISTED]
    assert drawn == [part.key for part in (*column.cations, *column.anions)]
    for x in (drawing.cation_x, drawing.anion_x):
        feet = [block.y for block in drawing.blocks if block.x == x]
        assert feet == sorted(feet, reverse=True)


@given(columns, columns)
def test_one_scale_holds_for_all_columns(first: Column, second: Column) -> None:
    per_meq = [
        block.height / part.charge_meq_l
        for column, drawing in zip((first, second), draw([first, second]), strict=True)
        for part in (*column.cations, *column.anions)
        for block in drawing.blocks
        if block.key == part.key
    ]
    assert all(value == pytest.approx(per_meq[0]) for value in per_meq)
