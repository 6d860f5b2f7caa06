"""Cockcroft and Gault, Nephron 1976;16:31 (from memory). Worked by hand.

The printed SI factors (1.23 and 1.04) are rounded, hence the wider tolerance against them.
"""

from typing import Literal

import pytest

from app.physiology.kidney import UMOL_L_PER_MG_DL, creatinine_clearance_ml_min


@pytest.mark.parametrize(
    ("sex", "age", "weight", "creatinine", "clearance", "tolerance"),
    [
        ("male", 60, 70, 1.2 * UMOL_L_PER_MG_DL, 64.81, 0.001),
        ("female", 75, 60, 1.5 * UMOL_L_PER_MG_DL, 30.69, 0.001),
        ("male", 60, 70, 106, 64.98, 0.005),
        ("female", 75, 60, 133, 30.50, 0.01),
    ],
)
def test_creatinine_clearance(  # noqa: PLR0913 - one column each
    sex: Literal["female", "male"],
    age: float,
    weight: float,
    creatinine: float,
    clearance: float,
    tolerance: float,
) -> None:
    worked = creatinine_clearance_ml_min(
        creatinine_umol_l=creatinine, age_years=age, weight_kg=weight, sex=sex
    )
    assert worked == pytest.approx(clearance, rel=tolerance)
