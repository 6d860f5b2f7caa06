"""Ward arithmetic."""

from app.physiology.rates import drops_per_min, run_out_minutes


def test_with_a_sixty_drop_set_drops_a_minute_are_ml_an_hour() -> None:
    assert drops_per_min(volume_ml=75, minutes=60, drops_per_ml=60) == 75


def test_half_the_rate_lasts_twice_as_long() -> None:
    assert run_out_minutes(500, 50) == 2 * run_out_minutes(500, 100)
