"""Wards and the settings they are."""

import pytest

from app.intake.bedside.wards import SETTINGS, WARDS


@pytest.mark.parametrize(
    ("written", "setting"),
    [("itu", "ICU"), ("resus", "ED"), ("recovery", "theatre"), ("picu", "paediatric"),
     ("scbu", "neonate"), ("maternity", "adult ward"), ("adult ward", "adult ward"),
     ("icu", "ICU")],
)  # fmt: skip
def test_a_ward_is_a_setting(written: str, setting: str) -> None:
    assert SETTINGS[written] == setting


def test_no_ward_is_two_settings() -> None:
    names = [name for names in WARDS.values() for name in names]
    assert len(names) == len(set(names))
