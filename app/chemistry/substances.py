"""Ions and solutes: charge, molar mass, and what each becomes in the body.

Molar masses are IUPAC standard atomic weights summed (g/mol); tests/reference checks them
against an independent chemistry library.
"""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Substance:
    """One ion or solute as it is counted in a fluid.

    charge: elementary charges per particle at blood pH; None where it has no fixed value
    (phosphate), so that no equivalent is ever computed for it.
    bicarbonate_yield: mol of bicarbonate that one mol becomes when fully used.
    """

    key: str
    name: str
    symbol: str
    charge: int | None
    molar_mass_g_mol: float
    bicarbonate_yield: float = 0.0


SODIUM: Final = Substance("sodium", "sodium", "Na⁺", 1, 22.990)
POTASSIUM: Final = Substance("potassium", "potassium", "K⁺", 1, 39.098)
CALCIUM: Final = Substance("calcium", "calcium", "Ca²⁺", 2, 40.078)
MAGNESIUM: Final = Substance("magnesium", "magnesium", "Mg²⁺", 2, 24.305)
CHLORIDE: Final = Substance("chloride", "chloride", "Cl⁻", -1, 35.45)
LACTATE: Final = Substance("lactate", "lactate", "lactate⁻", -1, 89.07, 1.0)
ACETATE: Final = Substance("acetate", "acetate", "acetate⁻", -1, 59.04, 1.0)
GLUCONATE: Final = Substance("gluconate", "gluconate", "gluconate⁻", -1, 195.15, 1.0)
# Carried as hydrogen malate: one charge in the bag, and its proton uses one of two bicarbonates.
MALATE: Final = Substance("malate", "malate", "malate⁻", -1, 133.08, 1.0)
BICARBONATE: Final = Substance("bicarbonate", "bicarbonate", "HCO₃⁻", -1, 61.017, 1.0)
CITRATE: Final = Substance("citrate", "citrate", "citrate³⁻", -3, 189.10, 3.0)
PHOSPHATE: Final = Substance("phosphate", "phosphate", "phosphate", None, 95.98)
SULFATE: Final = Substance("sulfate", "sulfate", "SO₄²⁻", -2, 96.06)

CATIONS: Final = (SODIUM, POTASSIUM, CALCIUM, MAGNESIUM)
ANIONS: Final = (
    CHLORIDE, LACTATE, ACETATE, GLUCONATE, MALATE, BICARBONATE, CITRATE, PHOSPHATE, SULFATE,
)  # fmt: skip
IONS: Final = CATIONS + ANIONS
ION_BY_KEY: Final = {ion.key: ion for ion in IONS}

GLUCOSE_ANHYDROUS_G_MOL: Final = 180.16
GLUCOSE_MONOHYDRATE_G_MOL: Final = 198.17
MANNITOL_G_MOL: Final = 182.17
