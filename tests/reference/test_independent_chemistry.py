"""Two independent chemistry libraries: periodictable (IUPAC masses) and PHREEQC (Pitzer's model).

Run here, through the packages periodictable and phreeqpython. Molar masses to 0.011 g/mol: ours are
written to two decimals. PHREEQC is the US Geological Survey's program for water chemistry; its
Pitzer model is fitted to measured osmotic coefficients (Pitzer and Mayorga, J Phys Chem
1973;77:2300). Osmolality to 2% of handbook measurements (0.9% sodium chloride about 286 mosm/kg,
from memory): density and temperature enter.
"""

import re
from dataclasses import dataclass

import periodictable
import pytest
from phreeqpython import PhreeqPython

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.chemistry.salts import SALTS, Salt
from app.chemistry.substances import IONS, Substance

TWO_DECIMALS = 0.011
BODY_CELSIUS = 37
ION_FORMULAS = {
    "sodium": "Na", "potassium": "K", "calcium": "Ca", "magnesium": "Mg", "chloride": "Cl",
    "lactate": "C3H5O3", "acetate": "C2H3O2", "gluconate": "C6H11O7", "malate": "C4H5O5",
    "bicarbonate": "HCO3", "citrate": "C6H5O7", "phosphate": "HPO4", "sulfate": "SO4",
}  # fmt: skip
# How PHREEQC names what is dissolved.
DISSOLVED = {"sodium": "Na", "potassium": "K", "calcium": "Ca", "magnesium": "Mg",
             "chloride": "Cl", "sulfate": "S(6)", "bicarbonate": "Alkalinity"}  # fmt: skip


def in_parts(formula: str) -> str:
    """ "CaCl2.2H2O" as the library writes it, "CaCl2(H2O)2"."""
    return re.sub(r"\.(\d*)H2O", lambda m: f"(H2O){m.group(1) or 1}", formula)


@pytest.mark.parametrize("salt", [s for s in SALTS if s.molar_mass_g_mol], ids=lambda s: s.key)
def test_the_molar_mass_of_every_salt(salt: Salt) -> None:
    theirs = periodictable.formula(in_parts(salt.formula)).mass
    assert salt.molar_mass_g_mol == pytest.approx(theirs, abs=TWO_DECIMALS)


@pytest.mark.parametrize("ion", IONS, ids=lambda i: i.key)
def test_the_molar_mass_of_every_ion(ion: Substance) -> None:
    theirs = periodictable.formula(ION_FORMULAS[ion.key]).mass
    assert ion.molar_mass_g_mol == pytest.approx(theirs, abs=TWO_DECIMALS)


@dataclass(frozen=True)
class Speciated:
    """What the independent program says of one of our fluids, per kg of water."""

    ionic_strength_mmol_kg: float
    charge_error_percent: float
    osmolality_mosm_kg: float


@pytest.fixture(scope="module")
def program() -> PhreeqPython:
    return PhreeqPython(database="pitzer.dat")


def fluid_of(catalogue: Catalogue, fluid_id: str) -> Fluid:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return fluid


def speciated(program: PhreeqPython, fluid: Fluid) -> Speciated:
    """The fluid as the program dissolves it, at body temperature, its density worked out."""
    held = {key: fluid.composition.ion_mmol_l(key) for key in DISSOLVED}
    ions = "\n".join(f"{DISSOLVED[key]} {value}" for key, value in held.items() if value)
    program.ip.run_string(
        f"SOLUTION 1\nunits mmol/L\ntemp {BODY_CELSIUS}\npH 7\ndensity 1.0 calculate\n{ions}\n"
        "SELECTED_OUTPUT\n-reset false\nUSER_PUNCH\n-headings i error phi particles\n"
        "10 t = SYS('aq', n, name$, type$, moles)\n20 total = 0\n30 FOR k = 1 TO n\n"
        "40 IF name$(k) <> 'H2O' THEN total = total + moles(k)\n50 NEXT k\n"
        "60 PUNCH MU, PERCENT_ERROR, OSMOTIC, total / TOT('water')\nEND"
    )
    strength, error, coefficient, particles = program.ip.get_selected_output_array()[-1]
    return Speciated(strength * 1000, error, coefficient * particles * 1000)


INORGANIC = ("sodium-chloride-0.9", "ringers-injection",
             "potassium-chloride-40-sodium-chloride-0.9", "sodium-chloride-3",
             "magnesium-sulfate-50", "sodium-bicarbonate-1.4")  # fmt: skip


@pytest.mark.parametrize("fluid_id", INORGANIC)
def test_the_program_too_finds_our_fluids_neutral(
    program: PhreeqPython, catalogue: Catalogue, fluid_id: str
) -> None:
    theirs = speciated(program, fluid_of(catalogue, fluid_id))
    assert theirs.charge_error_percent == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize("fluid_id", INORGANIC[:4])
def test_ionic_strength_follows_from_our_charges(
    program: PhreeqPython, catalogue: Catalogue, fluid_id: str
) -> None:
    fluid = fluid_of(catalogue, fluid_id)
    ours = sum(
        0.5 * (fluid.composition.ion_mmol_l(ion.key) or 0) * (ion.charge or 0) ** 2 for ion in IONS
    )
    # Ours is per litre, theirs per kg of water, of which a litre at 37 C holds a little less.
    theirs = speciated(program, fluid).ionic_strength_mmol_kg
    assert ours == pytest.approx(theirs, rel=0.025)


@pytest.mark.parametrize(
    ("fluid_id", "measured_mosm_kg"),
    [("sodium-chloride-0.9", 286), ("sodium-chloride-0.45", 144), ("sodium-chloride-3", 960)],
)
def test_measured_osmolality_of_saline_by_an_activity_model(
    program: PhreeqPython, catalogue: Catalogue, fluid_id: str, measured_mosm_kg: float
) -> None:
    theirs = speciated(program, fluid_of(catalogue, fluid_id))
    assert theirs.osmolality_mosm_kg == pytest.approx(measured_mosm_kg, rel=0.02)


def test_a_labels_osmolarity_of_saline_is_7_percent_above_its_osmolality(
    program: PhreeqPython, catalogue: Catalogue
) -> None:
    """Sodium chloride does not come apart wholly: a label's 308 is not what an osmometer reads."""
    fluid = fluid_of(catalogue, "sodium-chloride-0.9")
    theirs = speciated(program, fluid).osmolality_mosm_kg
    assert theirs / (fluid.composition.osmolarity_mosm_l or 0) == pytest.approx(0.93, abs=0.01)
