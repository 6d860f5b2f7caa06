"""Weeks of a pregnancy and days of a newborn."""

import pytest

from app.intake.problems.gestation import read_gestation


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("26/40 day 3", {"preterm", "newborn"}), ("born 31+2, dol 4", {"preterm", "newborn"}),
        ("term baby d2", {"newborn"}), ("ex-prem now 6 months", set()),
        ("ex 28-weeker, corrected 4/12", set()), ("pregnant 32/40", {"pregnancy"}),
        ("g2p1 34+5", {"pregnancy"}), ("10/40", {"pregnancy"}), ("postpartum 40/40", set()),
        ("ega 27 wks, d40", {"preterm"}), ("vomiting 3 weeks", set()),
        ("39/40 in labour", {"pregnancy"}),
        ("ex-30-week twin, now dol 12", {"preterm", "newborn"}), ("3 days post op", set()),
    ],
)  # fmt: skip
def test_whose_weeks_they_are(text: str, keys: set[str]) -> None:
    assert read_gestation(text)[1] == keys
