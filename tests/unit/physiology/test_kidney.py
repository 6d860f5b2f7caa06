"""Filtration."""

import pytest

from app.physiology.kidney import (
    creatinine_clearance_ml_min,
    egfr_bedside_child,
    egfr_ckd_epi_2021,
)


@pytest.mark.parametrize("sex", ["female", "male"])
def test_filtration_falls_with_age_and_creatinine(sex: str) -> None:
    young = egfr_ckd_epi_2021(80, 30, sex)  # type: ignore[arg-type]
    assert egfr_ckd_epi_2021(80, 80, sex) < young  # type: ignore[arg-type]
    assert egfr_ckd_epi_2021(300, 30, sex) < young / 2  # type: ignore[arg-type]


def test_a_childs_filtration_is_judged_by_height() -> None:
    assert egfr_bedside_child(40, 110) == pytest.approx(100.4, abs=0.1)


def test_a_womans_clearance_is_lower_than_a_mans() -> None:
    def clearance(sex: str) -> float:
        return creatinine_clearance_ml_min(
            creatinine_umol_l=100,
            age_years=60,
            weight_kg=70,
            sex=sex,  # type: ignore[arg-type]
        )

    assert clearance("female") < clearance("male")
