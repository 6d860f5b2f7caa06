"""The solver of pH against PHREEQC, the US Geological Survey's program for water chemistry, run
here at 37 C through the package phreeqpython: salt water with a strong ion difference, carbonic
acid and phosphate at a given pressure of carbon dioxide. PHREEQC reckons ion pairs and activities
from thermodynamics; we from Henderson's equation and Figge's line for phosphate. No albumin, which
PHREEQC does not know.
"""

from math import log10

import numpy as np
import pytest
from phreeqpython import PhreeqPython

from app.physiology.course.charges import bicarbonate_at, ph_that_balances

BODY_CELSIUS = 37.0
MMHG_PER_ATM = 760.0
SODIUM = 140.0
# Activities and ion pairs account for this; carbonate, which we leave out, for that share.
PH_WITHIN = 0.022
BICARBONATE_WITHIN = 0.05


@pytest.fixture(scope="module")
def program() -> PhreeqPython:
    return PhreeqPython()


def equilibrium(
    program: PhreeqPython, strong: float, pco2: float, phosphate: float
) -> tuple[float, float]:
    """pH, and bicarbonate with its ion pairs, mmol/kg of water."""
    water = program.add_solution(
        {
            "temp": BODY_CELSIUS, "units": "mmol/kgw", "Na": SODIUM, "Cl": SODIUM - strong,
            "P": phosphate, "pH": "7 charge",
        }
    )  # fmt: skip
    water.equalize(["CO2(g)"], [log10(pco2 / MMHG_PER_ATM)])
    pairs = sum(mol for name, mol in water.species.items() if name in ("HCO3-", "NaHCO3"))
    found = water.pH, 1000 * pairs
    water.forget()
    return found


@pytest.mark.parametrize("strong", [15.0, 24.0, 30.0, 36.0])
@pytest.mark.parametrize("pco2", [20.0, 40.0, 70.0])
@pytest.mark.parametrize("phosphate", [0.0, 1.2])
def test_carbonic_acid_and_phosphate_settle_at_one_ph(
    program: PhreeqPython, strong: float, pco2: float, phosphate: float
) -> None:
    theirs, bicarbonate = equilibrium(program, strong, pco2, phosphate)
    pressure = np.array([pco2])
    ph = ph_that_balances(np.array([strong]), np.zeros(1), np.array([phosphate]), pressure)
    assert float(ph[0]) == pytest.approx(theirs, abs=PH_WITHIN)
    ours = float(bicarbonate_at(ph, pressure)[0])
    assert ours == pytest.approx(bicarbonate, rel=BICARBONATE_WITHIN)


def test_a_change_of_strong_ions_moves_both_alike(program: PhreeqPython) -> None:
    changes = []
    for strong in (24.0, 20.0):
        ph = ph_that_balances(np.array([strong]), np.zeros(1), np.zeros(1), np.array([40.0]))
        changes.append((float(ph[0]), equilibrium(program, strong, 40.0, 0.0)[0]))
    (ours, theirs), (ours_after, theirs_after) = changes
    assert ours_after - ours == pytest.approx(theirs_after - theirs, abs=0.003)
