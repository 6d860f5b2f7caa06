"""On a wall the largest difference comes first."""

from app.web.prediction.start.wall import wall_of
from tests.unit.web.prediction.start.conftest import TriedOf


def test_saline_beside_a_buffered_fluid_is_about_chloride(tried_of: TriedOf) -> None:
    wall = wall_of(tried_of("sodium-chloride-0.9", "lactated-ringers", volume_ml=2000))
    assert wall.keys[0] == "chloride_mmol_l"
    assert len(wall.keys) == 2
    assert wall.sentence.startswith("2,000 mL in 4 h: chloride +")
    assert "with 0.9% sodium chloride, " in wall.sentence
    assert set(wall.names) == {"A", "B"}


def test_one_bag_is_about_what_it_moves_most(tried_of: TriedOf) -> None:
    wall = wall_of(tried_of("sodium-chloride-3", volume_ml=500))
    assert set(wall.keys) <= {"sodium_mmol_l", "chloride_mmol_l", "plasma_volume_ml"}
    assert "of 3% sodium chloride in 4 h:" in wall.sentence
    assert not wall.names
