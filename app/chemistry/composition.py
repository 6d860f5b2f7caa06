"""What one litre holds, and what follows from it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from operator import attrgetter, mul
from typing import Final

from app.chemistry.substances import (
    ANIONS,
    CATIONS,
    GLUCOSE_ANHYDROUS_G_MOL,
    GLUCOSE_MONOHYDRATE_G_MOL,
    MANNITOL_G_MOL,
)

MILLI: Final = 1000.0
# Four fifths HPO4, one fifth H2PO4 at blood pH (Figge gives 1.82). Used only for charge balance
# and base load, never for an equivalent: the charge changes with pH.
PHOSPHATE_CHARGE_AT_PH_7_4: Final = -1.8
Amounts = Callable[["Composition"], tuple[float, ...]]
# Every rule asks for these sums, so the amounts are fetched in one step each.
_cations_mmol_l: Final[Amounts] = attrgetter(*(f"{ion.key}_mmol_l" for ion in CATIONS))
_anions_mmol_l: Final[Amounts] = attrgetter(*(f"{ion.key}_mmol_l" for ion in ANIONS))
_CATION_CHARGES: Final = tuple(ion.charge or 0 for ion in CATIONS)
_ANION_CHARGES: Final = tuple(-(ion.charge or PHOSPHATE_CHARGE_AT_PH_7_4) for ion in ANIONS)


@dataclass(frozen=True, slots=True)
class Composition:
    """Amounts in one litre: ions mmol/L, sugars and colloids g/L.

    chloride_mmol_l is None where the label gives none (some albumins); every other ion that a
    label does not name is absent. glucose_g_l is as labelled, glucose_monohydrate says on which
    basis. other_solute_mmol_l counts dissolved particles that are none of the named ones
    (octanoate); colloid_charge_meq_l is the net charge of protein or gelatin.
    """

    sodium_mmol_l: float = 0.0
    potassium_mmol_l: float = 0.0
    calcium_mmol_l: float = 0.0
    magnesium_mmol_l: float = 0.0
    chloride_mmol_l: float | None = 0.0
    lactate_mmol_l: float = 0.0
    acetate_mmol_l: float = 0.0
    gluconate_mmol_l: float = 0.0
    malate_mmol_l: float = 0.0
    bicarbonate_mmol_l: float = 0.0
    citrate_mmol_l: float = 0.0
    phosphate_mmol_l: float = 0.0
    sulfate_mmol_l: float = 0.0
    glucose_g_l: float = 0.0
    glucose_monohydrate: bool = False
    albumin_g_l: float = 0.0
    starch_g_l: float = 0.0
    gelatin_g_l: float = 0.0
    mannitol_g_l: float = 0.0
    other_solute_mmol_l: float = 0.0
    colloid_charge_meq_l: float = 0.0

    def ion_mmol_l(self, key: str) -> float | None:
        """Concentration of one ion by its key, mmol/L; None where the label does not say."""
        value: float | None = getattr(self, f"{key}_mmol_l")
        return value

    @property
    def glucose_mmol_l(self) -> float:
        """Glucose particles, mmol/L, from the labelled mass and its basis."""
        molar = GLUCOSE_MONOHYDRATE_G_MOL if self.glucose_monohydrate else GLUCOSE_ANHYDROUS_G_MOL
        return self.glucose_g_l * MILLI / molar

    @property
    def mannitol_mmol_l(self) -> float:
        """Mannitol particles, mmol/L."""
        return self.mannitol_g_l * MILLI / MANNITOL_G_MOL

    @property
    def glucose_anhydrous_g_l(self) -> float:
        """Glucose as anhydrous mass, g/L: the amount the body can burn."""
        return self.glucose_mmol_l * GLUCOSE_ANHYDROUS_G_MOL / MILLI

    @property
    def cations_meq_l(self) -> float:
        """Sum of cation charges, mEq/L."""
        charges: float = sum(map(mul, _cations_mmol_l(self), _CATION_CHARGES))
        return charges

    @property
    def anions_meq_l(self) -> float | None:
        """Sum of anion charges with the colloid's, mEq/L, as a positive number.

        None where chloride is not on the label.
        """
        if self.chloride_mmol_l is None:
            return None
        ions: float = sum(map(mul, _anions_mmol_l(self), _ANION_CHARGES))
        return ions - self.colloid_charge_meq_l

    @property
    def charge_gap_meq_l(self) -> float | None:
        """Cations minus anions, mEq/L: near zero for a true label, None if unknown."""
        return None if self.anions_meq_l is None else self.cations_meq_l - self.anions_meq_l

    @property
    def tonicity_mosm_l(self) -> float | None:
        """Effective osmolarity in the body, mOsm/L: every dissolved particle but glucose.

        None where chloride is not on the label.
        """
        if self.chloride_mmol_l is None:
            return None
        ions = sum(_cations_mmol_l(self) + _anions_mmol_l(self))
        return ions + self.mannitol_mmol_l + self.other_solute_mmol_l

    @property
    def osmolarity_mosm_l(self) -> float | None:
        """Calculated osmolarity, mOsm/L: mmol/L of every dissolved particle (label practice)."""
        return None if self.tonicity_mosm_l is None else self.tonicity_mosm_l + self.glucose_mmol_l

    @property
    def strong_ion_difference_meq_l(self) -> float | None:
        """Strong ion difference once the organic anions are used, mEq/L.

        Strong cations minus chloride and sulfate (Stewart 1983; Morgan 2009, from memory):
        never the sum of organic anion charges, since malic acid brought protons along.
        """
        if self.chloride_mmol_l is None:
            return None
        return self.cations_meq_l - self.chloride_mmol_l - 2 * self.sulfate_mmol_l

    @property
    def cation_salt_mmol_l(self) -> float:
        """Sodium plus potassium, mmol/L: what electrolyte-free water is counted against."""
        return self.sodium_mmol_l + self.potassium_mmol_l

    def amounts(self) -> Mapping[str, float | None]:
        """Every numeric amount in one litre by field name."""
        return {name: getattr(self, name) for name in AMOUNT_FIELDS}


AMOUNT_FIELDS: Final = tuple(f.name for f in fields(Composition) if f.name != "glucose_monohydrate")
