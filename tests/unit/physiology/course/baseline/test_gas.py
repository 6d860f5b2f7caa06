"""pH, carbon dioxide and bicarbonate that fit each other."""

import pytest

from app.physiology.acid_base import ph_of, standard_base_excess_mmol_l
from app.physiology.course.baseline.gas import bicarbonate_of_excess, expected_pco2, gas_of
from app.physiology.course.baseline.known import BaselineError
from app.physiology.course.sizes import USUAL


def gas(**results: float) -> dict[str, tuple[float, str]]:
    return gas_of(results, USUAL)


def test_without_a_ph_nothing_is_worked_out() -> None:
    assert gas(pco2=30) == {} == gas(bicarbonate=12)


@pytest.mark.parametrize(
    ("ph", "pco2", "bicarbonate"), [(7.4, 40, 12), (7.0, 40, 20), (6.9, 40, 24)]
)
def test_a_gas_whose_three_figures_are_more_than_a_third_apart_is_refused(
    ph: float, pco2: float, bicarbonate: float
) -> None:
    with pytest.raises(BaselineError, match="bicarbonate about"):
        gas(ph=ph, pco2=pco2, bicarbonate=bicarbonate)


@pytest.mark.parametrize(
    ("ph", "pco2", "bicarbonate"), [(7.22, 35, 12), (7.36, 35, 22), (7.05, 18, 6), (6.9, 12, 3)]
)
def test_of_three_figures_that_differ_the_ph_is_dropped_and_that_is_said(
    ph: float, pco2: float, bicarbonate: float
) -> None:
    ((name, (value, why)),) = gas(ph=ph, pco2=pco2, bicarbonate=bicarbonate).items()
    assert name == "ph" and f"says {ph:g}" in why
    assert value == pytest.approx(ph_of(bicarbonate, pco2))


def test_what_rounding_and_solubility_come_to_is_not_worth_saying() -> None:
    assert gas(ph=7.40, pco2=40, bicarbonate=24) == {} == gas(ph=7.40, pco2=40, bicarbonate=24.6)


def test_the_third_figure_follows_from_two() -> None:
    assert gas(ph=7.2, pco2=30)["bicarbonate"][0] == pytest.approx(11.4, abs=0.1)
    worked = gas(ph=7.2, bicarbonate=12)["pco2"][0]
    assert ph_of(12, worked) == pytest.approx(7.2)


def test_a_ph_alone_is_shared_between_breathing_and_metabolism() -> None:
    found = gas(ph=7.2)
    bicarbonate, pco2 = found["bicarbonate"][0], found["pco2"][0]
    assert ph_of(bicarbonate, pco2) == pytest.approx(7.2)
    assert bicarbonate < 24 and pco2 > 40


def test_base_excess_says_what_a_ph_alone_does_not() -> None:
    found = gas(ph=7.2, base_excess=-12)
    bicarbonate, pco2 = found["bicarbonate"][0], found["pco2"][0]
    assert standard_base_excess_mmol_l(bicarbonate, 7.2) == pytest.approx(-12)
    assert ph_of(bicarbonate, pco2) == pytest.approx(7.2)
    assert bicarbonate_of_excess(0.0, 7.4) == pytest.approx(24.4)


def test_base_excess_and_one_other_figure_give_the_third() -> None:
    pco2 = gas(base_excess=-6, bicarbonate=19)["pco2"][0]
    assert standard_base_excess_mmol_l(19, ph_of(19, pco2)) == pytest.approx(-6)
    bicarbonate = gas(base_excess=-2.5, pco2=40)["bicarbonate"][0]
    assert standard_base_excess_mmol_l(bicarbonate, ph_of(bicarbonate, 40)) == pytest.approx(
        -2.5, abs=0.001
    )


def test_base_excess_that_no_breathing_gives_with_this_bicarbonate_says_nothing() -> None:
    assert gas(base_excess=-25, bicarbonate=30) == {} == gas(base_excess=10, bicarbonate=5)


def test_base_excess_alone_says_nothing() -> None:
    assert gas(base_excess=-6) == {}


@pytest.mark.parametrize(
    "results", [{"ph": 7.7, "bicarbonate": 4}, {"ph": 6.5, "bicarbonate": 30},
                {"ph": 7.0, "base_excess": -40}],
)  # fmt: skip
def test_a_ph_that_no_breathing_gives_with_this_bicarbonate_is_refused(
    results: dict[str, float],
) -> None:
    with pytest.raises(BaselineError, match="pCO2 of 6 to 200"):
        gas(**results)


def test_breathing_answers_a_low_and_a_high_bicarbonate_within_bounds() -> None:
    # Winters: 1.5 x 12 + 8 = 26; of 36 about 48 (formulas, from memory).
    assert expected_pco2(12, USUAL) == pytest.approx(25, abs=2)
    assert expected_pco2(36, USUAL) == pytest.approx(48, abs=1)
    assert expected_pco2(1, USUAL) >= 10 and expected_pco2(60, USUAL) == 60
