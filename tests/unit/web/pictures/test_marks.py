"""Labels and drawings know where their lines and middles are."""

import pytest

from app.web.pictures.ion_columns import Column, Part, draw
from app.web.pictures.marks import LINE_HEIGHT, Drawing

RINGERS = Column(
    "lactated Ringer's",
    (Part("sodium", "sodium", 130, "130", ""), Part("potassium", "potassium", 4, "4", "")),
    (Part("chloride", "chloride", 109, "109", ""), Part("lactate", "lactate", 25, "25", "")),
    109,
    "25",
)


@pytest.fixture
def ringers() -> Drawing:
    (drawing,) = draw([RINGERS])
    return drawing


def test_lines_of_one_label_are_a_line_apart(ringers: Drawing) -> None:
    sodium = next(label for label in ringers.labels if label.key == "sodium")
    (first, symbol), (second, amount) = sodium.baselines
    assert (symbol, amount) == ("sodium", "130")
    assert second - first == pytest.approx(LINE_HEIGHT)


def test_a_leader_is_written_as_svg_wants_it(ringers: Drawing) -> None:
    potassium = next(label for label in ringers.labels if label.key == "potassium")
    assert len(potassium.points.split()) == len(potassium.leader) == 3


def test_middles_lie_between_the_edges_of_the_bars(ringers: Drawing) -> None:
    assert ringers.cation_middle < ringers.channel_middle < ringers.anion_middle


def test_the_line_at_plasma_s_height_reaches_over_both_bars(ringers: Drawing) -> None:
    assert ringers.reference_x1 < ringers.cation_x
    assert ringers.reference_x2 > ringers.anion_x + ringers.bar_width


def test_a_column_with_names_on_its_left_is_indented(ringers: Drawing) -> None:
    (water,) = draw([Column("water", (), (), 0, "")])
    assert ringers.indented
    assert not water.indented
