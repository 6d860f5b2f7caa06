"""Filtration estimated from creatinine."""

from typing import Final, Literal

UMOL_L_PER_MG_DL: Final = 88.4


def egfr_ckd_epi_2021(
    creatinine_umol_l: float, age_years: float, sex: Literal["female", "male"]
) -> float:
    """Estimated filtration, mL/min/1.73 m2, adults, CKD-EPI 2021 (Inker, NEJM 2021;385:1737).

    Coefficients from memory. Valid at steady state only: in acute kidney injury the true figure
    is lower than this.
    """
    female = sex == "female"
    kappa, alpha = (0.7, -0.241) if female else (0.9, -0.302)
    ratio = creatinine_umol_l / UMOL_L_PER_MG_DL / kappa
    egfr = 142 * min(ratio, 1) ** alpha * max(ratio, 1) ** -1.2 * 0.9938**age_years
    return float(egfr * 1.012) if female else float(egfr)


def egfr_bedside_child(creatinine_umol_l: float, height_cm: float) -> float:
    """Estimated filtration of a child, mL/min/1.73 m2: 36.5 x cm / creatinine.

    Schwartz, J Am Soc Nephrol 2009;20:629, SI form, from memory. Ages 1 to 16 years.
    """
    return 36.5 * height_cm / creatinine_umol_l


def creatinine_clearance_ml_min(
    *, creatinine_umol_l: float, age_years: float, weight_kg: float, sex: Literal["female", "male"]
) -> float:
    """Creatinine clearance of an adult, mL/min (Cockcroft and Gault, Nephron 1976;16:31).

    From memory. Not in acute kidney injury.
    """
    male = (140 - age_years) * weight_kg / (72 * creatinine_umol_l / UMOL_L_PER_MG_DL)
    return 0.85 * male if sex == "female" else male
