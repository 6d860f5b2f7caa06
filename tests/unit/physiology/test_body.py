"""Size of a body."""

import pytest

from app.physiology.body import adjusted_weight_kg, ideal_weight_kg


def test_adjusted_weight_lies_between_ideal_and_actual() -> None:
    ideal = ideal_weight_kg(165, "female")
    assert ideal < adjusted_weight_kg(ideal, 110) < 110


def test_ideal_weight_is_not_made_up_for_the_short() -> None:
    with pytest.raises(ValueError, match=r"152\.4"):
        ideal_weight_kg(140, "female")
