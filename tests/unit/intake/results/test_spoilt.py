"""Remarks that spoil a sample."""

import pytest

from app.intake.results.spoilt import why_spoilt


@pytest.mark.parametrize(
    ("name", "remark", "spoilt"),
    [("potassium", "haemolysed", True), ("potassium", "not haemolysed", False),
     ("sodium", "haemolysed", False), ("sodium", "drip arm", True),
     ("potassium", "old sample", True),
     ("sodium", "old sample", False), ("potassium", "haemolysis: nil", False),
     ("potassium", "", False)],
)  # fmt: skip
def test_a_remark_spoils_what_it_harms(name: str, remark: str, spoilt: bool) -> None:
    assert bool(why_spoilt(name, remark.replace(":", ""))) == spoilt
