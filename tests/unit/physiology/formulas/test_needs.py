"""Needs: a burn's phases make up its volume; a day's hours make up the day."""

import pytest

from app.physiology.formulas.needs import BURN, MAINTENANCE, NEWBORN


def test_a_burns_two_phases_are_its_volume_however_late_it_is_seen() -> None:
    total, first, second = (part.work for part in BURN.parts)
    burn = {"weight_kg": 60, "burn_percent": 30}
    assert first(hours_since_burn=3, **burn) * 5 + second(**burn) * 16 == pytest.approx(
        total(**burn)
    )


def test_the_hour_of_the_days_form_is_a_24th() -> None:
    day, hour, _ = (part.work(weight_kg=33) for part in MAINTENANCE.parts)
    assert hour * 24 == pytest.approx(day)


def test_a_newborns_least_is_under_its_most() -> None:
    least, most = (part.work for part in NEWBORN.parts)
    assert all(least(day=day) < most(day=day) for day in range(1, 29))
