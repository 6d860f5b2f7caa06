"""Figge, Jabor, Kazda, Fencl, Crit Care Med 1998;26:1807 (from memory): gap corrected for albumin.

Reference albumin 44 g/L in the paper, 40 in common practice. Worked by hand.
"""

import pytest

from app.physiology.acid_base import anion_gap_mmol_l, gap_for_albumin_mmol_l


def test_a_normal_gap() -> None:
    assert anion_gap_mmol_l(140, 104, 24) == 12


@pytest.mark.parametrize(
    ("sodium", "chloride", "bicarbonate", "albumin", "gap", "corrected"),
    [(138, 100, 18, 20, 20, 25.0), (150, 120, 14, 25, 16, 19.75)],
)
def test_low_albumin_hides_part_of_the_gap(  # noqa: PLR0913 - one column each
    sodium: float, chloride: float, bicarbonate: float, albumin: float, gap: float, corrected: float
) -> None:
    worked = anion_gap_mmol_l(sodium, chloride, bicarbonate)
    assert worked == gap
    assert gap_for_albumin_mmol_l(worked, albumin) == corrected


def test_the_papers_own_reference_albumin() -> None:
    assert gap_for_albumin_mmol_l(20, 20, reference_g_l=44) == 26.0
