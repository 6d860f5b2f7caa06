"""The solver of pH for many people against solutions worked by hand from Figge and Fencl's lines
(J Lab Clin Med 1992;120:713): strong ion difference, albumin, phosphate and carbon dioxide to pH
and bicarbonate.
"""

import numpy as np
import pytest

from app.physiology.acid_base import standard_base_excess_mmol_l
from app.physiology.course.charges import bicarbonate_at, ph_that_balances

SOLVED = [
    (39, 43, 1.2, 40, 7.4128, 24.74), (34, 43, 1.2, 40, 7.3255, 20.24),
    (29, 43, 1.2, 40, 7.2191, 15.84), (39, 20, 1.2, 40, 7.5097, 30.92),
    (44, 43, 1.2, 40, 7.4866, 29.32), (39, 43, 1.2, 60, 7.2524, 25.65),
]  # fmt: skip


def test_all_at_once() -> None:
    strong, albumin, phosphate, pco2, ph, bicarbonate = map(np.array, zip(*SOLVED, strict=True))
    found = ph_that_balances(strong.astype(float), albumin, phosphate, pco2)
    assert found == pytest.approx(ph, abs=0.0005)
    assert bicarbonate_at(found, pco2) == pytest.approx(bicarbonate, abs=0.02)


# Base excess of such a gas, by Siggaard-Andersen's form (worked by hand).
@pytest.mark.parametrize(
    ("bicarbonate", "ph", "excess"),
    [(24.4, 7.40, 0.0), (15, 7.25, -10.81), (10, 7.10, -17.52), (36, 7.50, 12.16)],
)
def test_base_excess_of_many(bicarbonate: float, ph: float, excess: float) -> None:
    found = standard_base_excess_mmol_l(np.full(3, bicarbonate), np.full(3, ph))
    assert found == pytest.approx(excess, abs=0.01)
