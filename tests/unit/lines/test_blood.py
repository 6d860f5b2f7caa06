"""The time limits of blood that has left its fridge."""

from app.lines.blood import too_long
from tests.unit.lines.build import dose


def test_blood_that_takes_more_than_four_hours_is_too_long() -> None:
    assert too_long(dose("red cells", 241, kind="blood"))
    assert not too_long(dose("red cells", 240, kind="blood"))
    assert not too_long(dose("vancomycin", 300))
