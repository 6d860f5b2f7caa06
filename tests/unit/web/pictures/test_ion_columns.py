"""The picture of ions says what the label says."""

import pytest

from app.web.pictures.ion_columns import (
    BASELINE,
    NOT_LISTED,
    PLOT_HEIGHT,
    Column,
    Part,
    draw,
)
from app.web.pictures.marks import Drawing


def part(key: str, charge_meq_l: float) -> Part:
    return Part(key, key, charge_meq_l, f"{charge_meq_l:g}", f"{key} {charge_meq_l:g} mEq/L")


SALINE = Column("0.9% sodium chloride", (part("sodium", 154),), (part("chloride", 154),), 154, "0")
RINGERS = Column(
    "lactated Ringer's",
    (part("sodium", 130), part("potassium", 4), part("calcium", 2.7)),
    (part("chloride", 109), part("lactate", 28)),
    109,
    "27.7",
)
WATER = Column("5% dextrose", (), (), 0, "0")
LOPSIDED = Column("a label that misses an anion", (part("sodium", 150),), (), None, "")


def label_places(drawing: Drawing) -> dict[str, str]:
    return {label.key: label.place for label in drawing.labels}


def test_the_tallest_column_fills_the_plot() -> None:
    saline, ringers = draw([SALINE, RINGERS])
    assert min(block.y for block in saline.blocks) == pytest.approx(BASELINE - PLOT_HEIGHT)
    assert min(block.y for block in ringers.blocks) > BASELINE - PLOT_HEIGHT


def test_small_ions_are_named_beside_the_column_with_a_leader() -> None:
    (ringers,) = draw([RINGERS])
    assert label_places(ringers) == {
        "sodium": "inside",
        "chloride": "inside",
        "lactate": "inside",
        "potassium": "left",
        "calcium": "left",
    }
    potassium = next(label for label in ringers.labels if label.key == "potassium")
    block = next(block for block in ringers.blocks if block.key == "potassium")
    assert potassium.leader[0] == (ringers.cation_x, block.y + block.height / 2)
    assert len(potassium.points.split()) == 3


def test_the_gap_runs_from_chloride_to_the_top_of_the_cations() -> None:
    (ringers,) = draw([RINGERS])
    chloride = next(block for block in ringers.blocks if block.key == "chloride")
    assert ringers.gap is not None
    assert ringers.gap.bottom == pytest.approx(chloride.y)
    assert ringers.gap.top == pytest.approx(
        min(b.y for b in ringers.blocks if b.x == ringers.cation_x)
    )
    assert ringers.gap.top < ringers.gap.label_y < ringers.gap.bottom


def test_no_gap_is_drawn_in_saline_but_its_nought_is_written_above() -> None:
    (saline,) = draw([SALINE])
    assert saline.gap is not None
    assert not saline.gap.drawn
    assert saline.gap.amount == "0"
    assert saline.gap.label_y < saline.gap.top


def test_a_fluid_without_ions_is_an_empty_column() -> None:
    _, water = draw([SALINE, WATER])
    assert water.empty
    assert water.blocks == ()
    assert water.gap is None


def test_what_a_label_leaves_out_is_drawn_as_not_listed() -> None:
    (drawing,) = draw([LOPSIDED])
    rest = next(block for block in drawing.blocks if block.key == NOT_LISTED)
    assert rest.x == drawing.anion_x
    assert "150 mEq/L" in rest.title


def test_a_difference_too_small_to_see_is_left_alone() -> None:
    (drawing,) = draw([RINGERS])
    assert NOT_LISTED not in {block.key for block in drawing.blocks}


def test_the_others_show_how_high_the_first_column_stands() -> None:
    saline, ringers = draw([SALINE, RINGERS])
    assert saline.reference_y is None
    assert ringers.reference_y == pytest.approx(BASELINE - PLOT_HEIGHT)


def test_pictures_can_stand_without_a_reference() -> None:
    assert draw([RINGERS], reference=None)[0].reference_y is None
