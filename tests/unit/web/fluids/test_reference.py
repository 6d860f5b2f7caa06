"""The column everything is laid beside."""

from app.web.fluids.reference import adult_plasma


def test_plasma_is_read_once_and_holds_calcium_as_the_free_ion() -> None:
    assert adult_plasma() is adult_plasma()
    calcium = adult_plasma().get("calcium")
    assert calcium is not None
    assert 1.1 < calcium.typical < 1.4
