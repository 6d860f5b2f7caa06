"""Words of a rate in one spelling."""

import pytest

from app.intake.pace.spelling import plain


@pytest.mark.parametrize(
    ("written", "spelt"),
    [
        ("1O0 ml/hr", "100 ml/hr"), ("1OO-12O", "100-120"), ("8o", "8o"), ("80 ml", "80 ml"),
        ("1,000 mL", "1000 ml"), ("1 000 mL", "1000 ml"), ("62,5 ml/h", "62.5 ml/h"),
        ("8°", "8 h"), ("half an hour", "30 min"), ("1½ hours", "1.5 hours"),
        ("1/2 NS", "1/2 ns"), ("T.K.V.O.", "kvo"), ("to keep the vein open", "kvo"),
        ("eight hourly", "8 hourly"), ("two hundred mL", "200 ml"), ("125mlph", "125ml/h"),
        ("125 mL·h⁻¹", "125 ml/h"), ("mL/m²/day", "ml/sqm/day"), ("125 → 60", "125 newly 60"),
        ("15 gtt factor", "15 drops/ml"), ("over 30'", "over 30 min"),
    ],
)  # fmt: skip
def test_what_is_written_in_many_ways_is_spelt_in_one(written: str, spelt: str) -> None:
    assert " ".join(plain(written).split()) == spelt
