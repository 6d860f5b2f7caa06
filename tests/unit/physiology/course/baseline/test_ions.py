"""What was not measured fits what was."""

import pytest

from app.physiology.course.baseline.ions import check_charges, chemistry_of, rest_mmol_l
from app.physiology.course.baseline.known import Assumed, BaselineError
from app.physiology.course.sizes import USUAL


def chemistry(**results: float) -> tuple[dict[str, float], dict[str, str]]:
    assumed: list[Assumed] = []
    found = chemistry_of(results, USUAL, assumed)
    return found, {one.name: one.why for one in assumed}


def test_what_is_measured_is_taken_and_the_rest_is_usual_and_listed() -> None:
    found, why = chemistry(sodium=140, potassium=3)
    assert found["potassium"] == 3 and found["albumin"] == USUAL["albumin"]
    assert set(why) == set(USUAL) - {"sodium", "potassium"}


@pytest.mark.parametrize(("sodium", "chloride"), [(105, 69), (185, 149)])
def test_a_chloride_nobody_measured_goes_with_the_sodium(sodium: float, chloride: float) -> None:
    found, why = chemistry(sodium=sodium)
    assert found["chloride"] == chloride and "moved" in why["chloride"]
    check_charges(found, USUAL)


@pytest.mark.parametrize(
    ("results", "low", "high"),
    [({"chloride": 130}, 5, 12), ({"chloride": 70}, 40, 50), ({"lactate": 25}, 6, 14)],
)
def test_a_bicarbonate_nobody_measured_leaves_room_for_the_other_ions(
    results: dict[str, float], low: float, high: float
) -> None:
    found, why = chemistry(**results)
    assert low < found["bicarbonate"] < high and "room" in why["bicarbonate"]
    check_charges(found, USUAL)


@pytest.mark.parametrize(
    ("results", "sodium"),
    [({"chloride": 120, "bicarbonate": 28}, 148.8), ({"chloride": 80, "bicarbonate": 20}, 122.8),
     ({"chloride": 150}, 154.8), ({"chloride": 60}, 132.8),
     ({"chloride": 104, "bicarbonate": 24}, 140)],
)  # fmt: skip
def test_a_sodium_nobody_measured_fits_the_anions_that_were(
    results: dict[str, float], sodium: float
) -> None:
    found, why = chemistry(**results)
    assert found["sodium"] == pytest.approx(sodium, abs=0.01)
    assert ("usual" in why["sodium"]) is (sodium == USUAL["sodium"])
    check_charges(found, USUAL)


def test_a_chloride_nobody_measured_leaves_room_for_a_high_bicarbonate() -> None:
    found, why = chemistry(bicarbonate=48)
    assert found["chloride"] == pytest.approx(91.2) and "room" in why["chloride"]
    check_charges(found, USUAL)


def test_a_ph_that_was_dropped_is_listed_with_the_one_that_fits() -> None:
    _, why = chemistry(ph=7.22, bicarbonate=12, pco2=35)
    assert "7.22" in why["ph"]


def test_a_pco2_nobody_measured_is_what_breathing_brings_about() -> None:
    found, why = chemistry(bicarbonate=10)
    assert found["pco2"] < 25 and "breathing" in why["pco2"]
    found, why = chemistry()
    assert found["pco2"] == 40 and "usual" in why["pco2"]


def test_charges_that_cannot_balance_are_refused_with_the_figures() -> None:
    found, _ = chemistry(sodium=120, chloride=130, bicarbonate=24)
    with pytest.raises(BaselineError, match="chloride 130"):
        check_charges(found, USUAL)
    found, _ = chemistry(sodium=170, chloride=90, bicarbonate=10)
    with pytest.raises(BaselineError, match="not 73"):
        check_charges(found, USUAL)


def test_the_rest_of_a_usual_plasma_is_small() -> None:
    assert rest_mmol_l(USUAL, USUAL) == pytest.approx(14.7)
