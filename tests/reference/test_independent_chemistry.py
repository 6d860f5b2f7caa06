"""An independent chemistry library: pyEQL (with the element table it rests on, pymatgen).

Seen, and run here. Molar masses to 0.02 g/mol: ours are written to two decimals. Ionic strength to
1%: pyEQL counts per kg of water, we per litre of solution. Osmolality by its activity model to 2%
of the measured values of handbooks (0.9% sodium chloride about 286 mosm/kg, from memory): the model
is fitted to such measurements, and temperature and density enter.
"""

import re

import pyEQL
import pytest
from pymatgen.core import Composition as Formula

from app.catalogue.catalogue import Catalogue
from app.chemistry.salts import SALTS, Salt
from app.chemistry.substances import IONS, Substance

TWO_DECIMALS = 0.011
BODY = "37 degC"
ION_FORMULAS = {
    "sodium": "Na", "potassium": "K", "calcium": "Ca", "magnesium": "Mg", "chloride": "Cl",
    "lactate": "C3H5O3", "acetate": "C2H3O2", "gluconate": "C6H11O7", "malate": "C4H5O5",
    "bicarbonate": "HCO3", "citrate": "C6H5O7", "phosphate": "HPO4", "sulfate": "SO4",
}  # fmt: skip
DISSOLVED = {"sodium": "Na+", "potassium": "K+", "calcium": "Ca+2", "magnesium": "Mg+2",
             "chloride": "Cl-", "sulfate": "SO4-2", "bicarbonate": "HCO3-"}  # fmt: skip


def in_parts(formula: str) -> str:
    """ "CaCl2.2H2O" as the library writes it, "CaCl2(H2O)2"."""
    return re.sub(r"\.(\d*)H2O", lambda m: f"(H2O){m.group(1) or 1}", formula)


@pytest.mark.parametrize("salt", [s for s in SALTS if s.molar_mass_g_mol], ids=lambda s: s.key)
def test_the_molar_mass_of_every_salt(salt: Salt) -> None:
    theirs = float(Formula(in_parts(salt.formula)).weight)
    assert salt.molar_mass_g_mol == pytest.approx(theirs, abs=TWO_DECIMALS)


@pytest.mark.parametrize("ion", IONS, ids=lambda i: i.key)
def test_the_molar_mass_of_every_ion(ion: Substance) -> None:
    theirs = float(Formula(ION_FORMULAS[ion.key]).weight)
    assert ion.molar_mass_g_mol == pytest.approx(theirs, abs=TWO_DECIMALS)


def dissolved(catalogue: Catalogue, fluid_id: str):  # noqa: ANN201 - the library has no types
    """A fluid of inorganic ions as the library's own solution, at body temperature."""
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    held = {key: fluid.composition.ion_mmol_l(key) for key in ION_FORMULAS}
    ions = {DISSOLVED[key]: f"{value} mmol/L" for key, value in held.items() if value}
    return fluid, pyEQL.Solution(ions, temperature=BODY, volume="1 L")


INORGANIC = ("sodium-chloride-0.9", "ringers", "potassium-chloride-40-sodium-chloride-0.9",
             "sodium-chloride-3", "magnesium-sulfate-50", "sodium-bicarbonate-1.4")  # fmt: skip


@pytest.mark.parametrize("fluid_id", INORGANIC)
def test_the_library_too_finds_our_fluids_neutral(catalogue: Catalogue, fluid_id: str) -> None:
    _, solution = dissolved(catalogue, fluid_id)
    assert float(solution.charge_balance) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("fluid_id", INORGANIC[:4])
def test_ionic_strength_follows_from_our_charges(catalogue: Catalogue, fluid_id: str) -> None:
    fluid, solution = dissolved(catalogue, fluid_id)
    ours = sum(
        0.5 * (fluid.composition.ion_mmol_l(ion.key) or 0) * (ion.charge or 0) ** 2 for ion in IONS
    )
    theirs_mmol_kg = solution.ionic_strength.to("mol/kg").magnitude * 1000
    # Salt takes up room: at 3% a litre holds 1.6% less water than at 0.9%.
    assert ours == pytest.approx(theirs_mmol_kg, rel=0.025)


def osmolality_mosm_kg(catalogue: Catalogue, fluid_id: str) -> float:
    """Osmotic coefficient times the particles in each kg of water."""
    _, solution = dissolved(catalogue, fluid_id)
    solutes = [name for name in solution.components if not name.startswith(("H2O", "H[", "OH"))]
    particles = sum(solution.get_amount(name, "mol/kg").magnitude for name in solutes)
    return float(solution.get_osmotic_coefficient().magnitude * particles * 1000)


@pytest.mark.parametrize(
    ("fluid_id", "measured_mosm_kg"),
    [("sodium-chloride-0.9", 286), ("sodium-chloride-0.45", 144), ("sodium-chloride-3", 960)],
)
def test_measured_osmolality_of_saline_by_an_activity_model(
    catalogue: Catalogue, fluid_id: str, measured_mosm_kg: float
) -> None:
    assert osmolality_mosm_kg(catalogue, fluid_id) == pytest.approx(measured_mosm_kg, rel=0.02)


def test_a_labels_osmolarity_of_saline_is_7_percent_above_its_osmolality(
    catalogue: Catalogue,
) -> None:
    """Sodium chloride does not come apart wholly: a label's 308 is not what an osmometer reads."""
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    ratio = osmolality_mosm_kg(catalogue, "sodium-chloride-0.9") / (
        fluid.composition.osmolarity_mosm_l or 0
    )
    assert ratio == pytest.approx(0.93, abs=0.01)
