"""Acid and base in plasma: gap, pH, expected compensation, weak acids, base excess."""

from dataclasses import dataclass
from math import log10
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

# One person's figure, or one for each of many people.
Figure = TypeVar("Figure", float, NDArray[np.float64])

MMHG_PER_KPA: Final = 7.50062
PK: Final = 6.1
# Solubility of carbon dioxide in plasma at 37 C, mmol/L/mmHg. Many analysers use 0.0307.
CO2_SOLUBILITY: Final = 0.0301

ALBUMIN_REFERENCE_G_L: Final = 40.0
GAP_PER_ALBUMIN_G: Final = 0.25

ALBUMIN_PER_PH: Final = 0.123
PHOSPHATE_PER_PH: Final = 0.309

LOWEST_PH: Final = 6.0
HIGHEST_PH: Final = 8.5
PH_PRECISION: Final = 1e-6


def anion_gap_mmol_l(sodium: float, chloride: float, bicarbonate: float) -> float:
    """Sodium minus chloride minus bicarbonate, all mmol/L, potassium left out."""
    return sodium - chloride - bicarbonate


def gap_for_albumin_mmol_l(
    gap_mmol_l: float, albumin_g_l: float, reference_g_l: float = ALBUMIN_REFERENCE_G_L
) -> float:
    """Anion gap as it would be were albumin normal, mmol/L.

    Figge, Crit Care Med 1998;26:1807, from memory; that paper's reference albumin is 44 g/L,
    common practice takes 40.
    """
    return gap_mmol_l + GAP_PER_ALBUMIN_G * (reference_g_l - albumin_g_l)


def ph_of(bicarbonate_mmol_l: float, pco2_mmhg: float, solubility: float = CO2_SOLUBILITY) -> float:
    """pH from bicarbonate and carbon dioxide (Henderson and Hasselbalch)."""
    return PK + log10(bicarbonate_mmol_l / (solubility * pco2_mmhg))


def bicarbonate_of(ph: float, pco2_mmhg: float) -> float:
    """Bicarbonate, mmol/L, from pH and carbon dioxide."""
    return float(CO2_SOLUBILITY * pco2_mmhg * 10 ** (ph - PK))


def expected_pco2_acidosis_mmhg(bicarbonate_mmol_l: float) -> float:
    """Carbon dioxide expected in metabolic acidosis, mmHg, give or take 2.

    Albert, Dell, Winters, Ann Intern Med 1967;66:312, from memory. Steady state, over 12 h.
    """
    return 1.5 * bicarbonate_mmol_l + 8


def expected_pco2_alkalosis_mmhg(bicarbonate_mmol_l: float) -> float:
    """Carbon dioxide expected in metabolic alkalosis, mmHg, give or take 5 (from memory)."""
    return 0.7 * (bicarbonate_mmol_l - 24) + 40


def albumin_charge_meq_l(albumin_g_l: Figure, ph: Figure | float) -> Figure:
    """Negative charge of albumin, mEq/L (Figge, J Lab Clin Med 1992;120:713, from memory)."""
    return albumin_g_l * (ALBUMIN_PER_PH * ph - 0.631)


def phosphate_charge_meq_l(phosphate_mmol_l: Figure, ph: Figure | float) -> Figure:
    """Negative charge of phosphate, mEq/L (Figge 1992, from memory)."""
    return phosphate_mmol_l * (PHOSPHATE_PER_PH * ph - 0.469)


@dataclass(frozen=True, slots=True)
class Plasma:
    """What sets pH: strong ion difference, mEq/L; albumin, g/L; phosphate, mmol/L; pCO2, mmHg."""

    strong_ion_difference_meq_l: float
    albumin_g_l: float
    phosphate_mmol_l: float
    pco2_mmhg: float

    def charge_meq_l(self, ph: float) -> float:
        """Charge of bicarbonate, albumin and phosphate at a pH, mEq/L."""
        return (
            bicarbonate_of(ph, self.pco2_mmhg)
            + albumin_charge_meq_l(self.albumin_g_l, ph)
            + phosphate_charge_meq_l(self.phosphate_mmol_l, ph)
        )

    def mixed(self, outside_l: float, fluid_l: float, fluid_difference_meq_l: float) -> "Plasma":
        """Plasma once a fluid is spread by volume over what is outside cells, both L.

        fluid_difference_meq_l: the fluid's, once its buffers are used. Nothing is passed and cells
        buffer nothing; carbon dioxide stays as it is.
        """
        total_l = outside_l + fluid_l
        own = outside_l * self.strong_ion_difference_meq_l
        share = outside_l / total_l
        return Plasma(
            (own + fluid_l * fluid_difference_meq_l) / total_l,
            self.albumin_g_l * share,
            self.phosphate_mmol_l * share,
            self.pco2_mmhg,
        )


def solve_ph(plasma: Plasma) -> float:
    """The pH at which plasma's charges balance: bicarbonate, albumin and phosphate fill the gap.

    Bisection: the charges rise steadily with pH, so there is one root. Plasma at steady state,
    no red cells or cell buffering: changes are larger than the whole body's.
    """
    low, high = LOWEST_PH, HIGHEST_PH
    while high - low > PH_PRECISION:
        middle = (low + high) / 2
        if plasma.charge_meq_l(middle) < plasma.strong_ion_difference_meq_l:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def strong_ion_gap_meq_l(apparent_meq_l: float, filled_meq_l: float) -> float:
    """Anions that were not measured, mEq/L: the strong ions' difference less what fills it.

    apparent_meq_l: measured strong cations less chloride and lactate. filled_meq_l: charge of
    bicarbonate, albumin and phosphate. Kellum, J Crit Care 1995;10:51, from memory.
    """
    return apparent_meq_l - filled_meq_l


def standard_base_excess_mmol_l(bicarbonate_mmol_l: Figure, ph: Figure) -> Figure:
    """Base excess of extracellular fluid, mmol/L (Siggaard-Andersen's form, from memory)."""
    return 0.93 * (bicarbonate_mmol_l - 24.4 + 14.8 * (ph - 7.40))


def laboratory_base_excess_mmol_l(bicarbonate_mmol_l: float, ph: float) -> float:
    """Base excess as many laboratories report it, mmol/L (CLSI C46, from memory)."""
    return bicarbonate_mmol_l - 24.8 + 16.2 * (ph - 7.40)
