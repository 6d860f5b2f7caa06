"""Figge, Rossing, Fencl, J Lab Clin Med 1991;117:453; Figge, Mydosh, Fencl, 1992;120:713.

Linear coefficients from memory (the authors' later model is another form). Worked by hand.
"""

import pytest

from app.physiology.acid_base import (
    Plasma,
    albumin_charge_meq_l,
    bicarbonate_of,
    phosphate_charge_meq_l,
    solve_ph,
)


@pytest.mark.parametrize(
    ("albumin", "phosphate", "ph", "pco2", "charges"),
    [(44, 1.16, 7.40, 40, (12.28, 2.108, 24.02)), (20, 1.0, 7.25, 30, (5.215, 1.771, 12.76))],
)
def test_charges_at_a_known_ph(
    albumin: float, phosphate: float, ph: float, pco2: float, charges: tuple[float, float, float]
) -> None:
    worked = (
        albumin_charge_meq_l(albumin, ph),
        phosphate_charge_meq_l(phosphate, ph),
        bicarbonate_of(ph, pco2),
    )
    assert worked == pytest.approx(charges, rel=0.005)


@pytest.mark.parametrize(
    ("plasma", "ph", "bicarbonate"),
    [
        ((39, 43, 1.2, 40), 7.4128, 24.74),
        ((34, 43, 1.2, 40), 7.3255, 20.24),
        ((29, 43, 1.2, 40), 7.2191, 15.84),
        ((39, 20, 1.2, 40), 7.5097, 30.92),
        ((44, 43, 1.2, 40), 7.4866, 29.32),
        ((39, 43, 1.2, 60), 7.2524, 25.65),
    ],
)
def test_the_ph_at_which_charges_balance(
    plasma: tuple[float, float, float, float], ph: float, bicarbonate: float
) -> None:
    worked = solve_ph(Plasma(*plasma))
    assert worked == pytest.approx(ph, abs=0.005)
    assert bicarbonate_of(worked, plasma[3]) == pytest.approx(bicarbonate, rel=0.005)


@pytest.mark.parametrize(
    ("fluid", "difference", "mixed", "ph", "bicarbonate"),
    [
        ("0.9% saline", 0.0, 34.41, 7.3633, 22.08),
        ("lactated Ringer's", 27.7, 37.67, 7.4184, 25.06),
        ("multiple electrolytes type 1, all used", 50.0, 40.29, 7.4585, 27.48),
    ],
)
def test_two_litres_into_fifteen(
    fluid: str, difference: float, mixed: float, ph: float, bicarbonate: float
) -> None:
    after = Plasma(39, 43, 1.2, 40).mixed(15, 2, difference)
    assert after.strong_ion_difference_meq_l == pytest.approx(mixed, rel=0.005)
    worked = solve_ph(after)
    assert worked == pytest.approx(ph, abs=0.005)
    assert bicarbonate_of(worked, 40) == pytest.approx(bicarbonate, rel=0.01)
