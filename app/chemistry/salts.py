"""Salts and solutes as they are weighed, and the ions that one millimole of each gives.

Molar masses (g/mol) are sums of IUPAC standard atomic weights; tests/reference checks them against
an independent chemistry library. Water of crystallisation is part of the name: a gram of the
hexahydrate holds half the magnesium of a gram of the dry salt.
"""

from dataclasses import dataclass
from typing import Final

from app.chemistry.composition import Composition
from app.chemistry.errors import UnitError
from app.chemistry.substances import (
    GLUCOSE_ANHYDROUS_G_MOL,
    GLUCOSE_MONOHYDRATE_G_MOL,
    MANNITOL_G_MOL,
)

MG_PER_G: Final = 1000.0
# Injections of potassium phosphates hold 4.4 or 4.7 mmol of potassium with 3 mmol of phosphate by
# maker (US labels, seen: 66 or 71 mEq in 15 mL); the larger is used, so that a load is never told
# too low. Sodium phosphates: 4 mmol of sodium with 3 (US label, from memory).
POTASSIUM_PER_PHOSPHATE: Final = 4.7 / 3
SODIUM_PER_PHOSPHATE: Final = 4.0 / 3


@dataclass(frozen=True, slots=True)
class Salt:
    """One salt or solute.

    molar_mass_g_mol is None for a mixture sold by its phosphate, which grams cannot be turned
    into. ions: ion key and mmol given by one mmol of the salt; the first is what an order in mEq
    means. Sugars give no ion.
    """

    key: str
    name: str
    formula: str
    molar_mass_g_mol: float | None
    ions: tuple[tuple[str, float], ...] = ()


SALTS: Final = (
    Salt("sodium_chloride", "sodium chloride", "NaCl", 58.44, (("sodium", 1), ("chloride", 1))),
    Salt("potassium_chloride", "potassium chloride", "KCl", 74.55,
         (("potassium", 1), ("chloride", 1))),
    Salt("calcium_chloride", "calcium chloride dihydrate", "CaCl2.2H2O", 147.01,
         (("calcium", 1), ("chloride", 2))),
    Salt("calcium_gluconate", "calcium gluconate monohydrate", "Ca(C6H11O7)2.H2O", 448.39,
         (("calcium", 1), ("gluconate", 2))),
    Salt("magnesium_chloride", "magnesium chloride hexahydrate", "MgCl2.6H2O", 203.30,
         (("magnesium", 1), ("chloride", 2))),
    Salt("magnesium_sulfate", "magnesium sulfate heptahydrate", "MgSO4.7H2O", 246.47,
         (("magnesium", 1), ("sulfate", 1))),
    Salt("sodium_bicarbonate", "sodium bicarbonate", "NaHCO3", 84.01,
         (("sodium", 1), ("bicarbonate", 1))),
    Salt("sodium_lactate", "sodium lactate", "NaC3H5O3", 112.06, (("sodium", 1), ("lactate", 1))),
    Salt("sodium_acetate", "sodium acetate trihydrate", "NaC2H3O2.3H2O", 136.08,
         (("sodium", 1), ("acetate", 1))),
    Salt("sodium_acetate_anhydrous", "sodium acetate, anhydrous", "NaC2H3O2", 82.03,
         (("sodium", 1), ("acetate", 1))),
    Salt("potassium_acetate", "potassium acetate", "KC2H3O2", 98.14,
         (("potassium", 1), ("acetate", 1))),
    Salt("sodium_gluconate", "sodium gluconate", "NaC6H11O7", 218.14,
         (("sodium", 1), ("gluconate", 1))),
    Salt("sodium_citrate", "trisodium citrate dihydrate", "Na3C6H5O7.2H2O", 294.10,
         (("sodium", 3), ("citrate", 1))),
    Salt("potassium_phosphate", "potassium phosphates injection", "KH2PO4 with K2HPO4", None,
         (("phosphate", 1), ("potassium", POTASSIUM_PER_PHOSPHATE))),
    Salt("sodium_phosphate", "sodium phosphates injection", "NaH2PO4 with Na2HPO4", None,
         (("phosphate", 1), ("sodium", SODIUM_PER_PHOSPHATE))),
    Salt("potassium_dihydrogen_phosphate", "potassium dihydrogen phosphate", "KH2PO4", 136.09,
         (("phosphate", 1), ("potassium", 1))),
    Salt("dipotassium_phosphate", "dipotassium hydrogen phosphate", "K2HPO4", 174.18,
         (("phosphate", 1), ("potassium", 2))),
    Salt("sodium_dihydrogen_phosphate", "sodium dihydrogen phosphate monohydrate",
         "NaH2PO4.H2O", 137.99, (("phosphate", 1), ("sodium", 1))),
    Salt("disodium_phosphate", "disodium hydrogen phosphate, anhydrous", "Na2HPO4", 141.96,
         (("phosphate", 1), ("sodium", 2))),
    Salt("sodium_glycerophosphate", "sodium glycerophosphate, anhydrous", "C3H7Na2O6P", 216.04,
         (("phosphate", 1), ("sodium", 2))),
    # Its protons are no ion here: hydrogen malate carries one charge, balanced by added alkali.
    Salt("malic_acid", "malic acid", "C4H6O5", 134.09, (("malate", 1),)),
    Salt("glucose", "glucose, anhydrous", "C6H12O6", GLUCOSE_ANHYDROUS_G_MOL),
    Salt("glucose_monohydrate", "glucose monohydrate", "C6H12O6.H2O", GLUCOSE_MONOHYDRATE_G_MOL),
    Salt("mannitol", "mannitol", "C6H14O6", MANNITOL_G_MOL),
)  # fmt: skip
SALT_BY_KEY: Final = {salt.key: salt for salt in SALTS}


def salt(salt_key: str) -> Salt:
    """The salt with this key. Raises UnitError when there is none."""
    if salt_key not in SALT_BY_KEY:
        raise UnitError("salt", salt_key, ", ".join(sorted(SALT_BY_KEY)))
    return SALT_BY_KEY[salt_key]


def salt_amounts(salt_key: str, mmol: float) -> Composition:
    """What this many mmol of a salt gives, in mmol of each ion (or g of sugar), in total.

    A phosphate mixture is counted by its phosphate. Raises UnitError for an unknown salt.
    """
    found = salt(salt_key)
    if salt_key in ("glucose", "glucose_monohydrate"):
        return Composition(
            glucose_g_l=salt_mg_from_mmol(salt_key, mmol) / MG_PER_G,
            glucose_monohydrate=salt_key == "glucose_monohydrate",
        )
    if salt_key == "mannitol":
        return Composition(mannitol_g_l=salt_mg_from_mmol(salt_key, mmol) / MG_PER_G)
    amounts = {f"{ion}_mmol_l": count * mmol for ion, count in found.ions}
    return Composition(**amounts)  # type: ignore[arg-type]  # ion names only, never the basis flag


def salt_mmol_from_g(salt_key: str, grams: float) -> float:
    """Mmol of a salt in so many grams of it, as named (with its water of crystallisation).

    Raises UnitError for an unknown salt and for a phosphate mixture, which has no one molar mass.
    """
    return grams * MG_PER_G / _molar_mass_g_mol(salt_key)


def salt_mg_from_mmol(salt_key: str, mmol: float) -> float:
    """Milligrams of a salt in so many mmol of it; raises UnitError as salt_mmol_from_g does."""
    return mmol * _molar_mass_g_mol(salt_key)


def salt_mmol_from_ion_mmol(salt_key: str, ion_key: str, ion_mmol: float) -> float:
    """Mmol of a salt that brings so many mmol of one of its ions. Raises UnitError for no such ion.

    Example: 15 mmol of potassium as potassium phosphates is 9.57 mmol of phosphate.
    """
    for key, count in salt(salt_key).ions:
        if key == ion_key:
            return ion_mmol / count
    ions = ", ".join(key for key, _ in salt(salt_key).ions) or "none, it is no salt"
    raise UnitError(f"ion of {salt(salt_key).name}", ion_key, ions)


def _molar_mass_g_mol(salt_key: str) -> float:
    molar_mass_g_mol = salt(salt_key).molar_mass_g_mol
    if molar_mass_g_mol is None:
        raise UnitError(f"amount of {salt(salt_key).name}", "grams", "mmol of phosphate")
    return molar_mass_g_mol
