"""Urine told in words."""

import pytest

from app.intake.bedside.urine import read_urine, with_urine
from app.patient.snapshot import Words


@pytest.mark.parametrize(
    ("text", "ml_h", "per_kg"),
    [("uo 10 ml/h", 10, False), ("u/o 0.3 ml/kg/hr last 4 h", 0.3, True),
     ("uop 5-10 cc/hr", 10, False),
     ("urine output 480 ml in 24 h", 20, False), ("urine 15 mls in last hour", 15, False),
     ("60 ml urine", None, False), ("if uo 20 ml/h call", None, False),
     ("aim uo 50 ml/h", None, False)],
)  # fmt: skip
def test_an_output_is_read(text: str, ml_h: float | None, per_kg: bool) -> None:
    _, urine = read_urine(text)
    assert (urine.ml_h if urine else None) == ml_h
    assert urine is None or urine.per_kg == per_kg


@pytest.mark.parametrize(
    ("text", "weight_kg", "key"),
    [("uo 10 ml/h", 70.0, "oliguria"), ("uo 10 ml/h", 3.0, ""), ("uo 10 ml/h", None, "oliguria"),
     ("uo 0 ml/h", 70.0, "anuria"), ("uo 0.3 ml/kg/h", None, "oliguria")],
)  # fmt: skip
def test_too_little_is_oliguria(text: str, weight_kg: float | None, key: str) -> None:
    said = with_urine(Words(), read_urine(text)[1], weight_kg, adult=True)
    assert said.found == frozenset({key} if key else ())
