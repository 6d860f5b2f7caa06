"""pH at which the charges balance, for many people at once."""

from typing import Final

import numpy as np

from app.physiology.acid_base import (
    ALBUMIN_PER_PH,
    CO2_SOLUBILITY,
    HIGHEST_PH,
    LOWEST_PH,
    PHOSPHATE_PER_PH,
    PK,
    albumin_charge_meq_l,
    phosphate_charge_meq_l,
)
from app.physiology.course.parameters import Values

NORMAL_PH: Final = 7.4
STEPS: Final = 12
# Steps end where no pH moves by more.
SETTLED: Final = 1e-9
LN10: Final = float(np.log(10.0))


def weak_charge(albumin_g_l: Values, phosphate_mmol_l: Values, ph: Values | float) -> Values:
    """Negative charge of albumin and phosphate, mEq/L, at a pH."""
    return albumin_charge_meq_l(albumin_g_l, ph) + phosphate_charge_meq_l(phosphate_mmol_l, ph)


def ph_that_balances(
    strong_meq_l: Values, albumin_g_l: Values, phosphate_mmol_l: Values, pco2_mmhg: Values
) -> Values:
    """pH by Newton's steps: bicarbonate, albumin and phosphate fill the strong ions' gap."""
    ph = np.full_like(strong_meq_l, NORMAL_PH)
    slope = albumin_g_l * ALBUMIN_PER_PH + phosphate_mmol_l * PHOSPHATE_PER_PH
    for _ in range(STEPS):
        bicarbonate = bicarbonate_at(ph, pco2_mmhg)
        over = bicarbonate + weak_charge(albumin_g_l, phosphate_mmol_l, ph) - strong_meq_l
        before = ph
        ph = ph - over / (bicarbonate * LN10 + slope)
        ph = np.minimum(np.maximum(ph, LOWEST_PH), HIGHEST_PH)
        if np.abs(ph - before).max() < SETTLED:
            break
    return ph


def bicarbonate_at(ph: Values, pco2_mmhg: Values) -> Values:
    """Bicarbonate, mmol/L (Henderson and Hasselbalch)."""
    return np.asarray(CO2_SOLUBILITY * pco2_mmhg * np.exp(LN10 * (ph - PK)))
