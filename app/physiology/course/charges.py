"""pH at which the charges balance, for many people at once."""

from typing import Final

import numpy as np

from app.physiology.acid_base import CO2_SOLUBILITY, HIGHEST_PH, LOWEST_PH, PK
from app.physiology.course.parameters import Values

# Figge, J Lab Clin Med 1992;120:713, from memory; as in app/physiology/acid_base.py.
ALBUMIN_SLOPE: Final = 0.123
ALBUMIN_AT_ZERO: Final = -0.631
PHOSPHATE_SLOPE: Final = 0.309
PHOSPHATE_AT_ZERO: Final = -0.469
NORMAL_PH: Final = 7.4
STEPS: Final = 12


def weak_charge(albumin_g_l: Values, phosphate_mmol_l: Values, ph: Values | float) -> Values:
    """Negative charge of albumin and phosphate, mEq/L, at a pH."""
    albumin = albumin_g_l * (ALBUMIN_SLOPE * ph + ALBUMIN_AT_ZERO)
    return np.asarray(albumin + phosphate_mmol_l * (PHOSPHATE_SLOPE * ph + PHOSPHATE_AT_ZERO))


def ph_that_balances(
    strong_meq_l: Values, albumin_g_l: Values, phosphate_mmol_l: Values, pco2_mmhg: Values
) -> Values:
    """pH by Newton's steps: bicarbonate, albumin and phosphate fill the strong ions' gap."""
    ph = np.full_like(strong_meq_l, NORMAL_PH)
    slope = albumin_g_l * ALBUMIN_SLOPE + phosphate_mmol_l * PHOSPHATE_SLOPE
    for _ in range(STEPS):
        bicarbonate = bicarbonate_at(ph, pco2_mmhg)
        over = bicarbonate + weak_charge(albumin_g_l, phosphate_mmol_l, ph) - strong_meq_l
        ph = np.clip(ph - over / (bicarbonate * np.log(10) + slope), LOWEST_PH, HIGHEST_PH)
    return ph


def bicarbonate_at(ph: Values, pco2_mmhg: Values) -> Values:
    """Bicarbonate, mmol/L (Henderson and Hasselbalch)."""
    return np.asarray(CO2_SOLUBILITY * pco2_mmhg * 10 ** (ph - PK))
