"""Millimoles, milliequivalents and milligrams."""

import pytest

from app.chemistry.errors import UnitError
from app.chemistry.units import (
    meq_from_mmol,
    mg_from_mmol,
    mmol_from_meq,
    mmol_from_mg,
    salt_mmol_from_meq,
)


def test_one_mmol_of_calcium_is_two_milliequivalents() -> None:
    assert meq_from_mmol("calcium", 1) == 2
    assert mmol_from_meq("calcium", 2.7) == pytest.approx(1.35)


def test_sodium_and_chloride_read_the_same_in_both_units() -> None:
    assert meq_from_mmol("sodium", 154) == mmol_from_meq("chloride", 154) == 154


@pytest.mark.parametrize("convert", [meq_from_mmol, mmol_from_meq])
def test_phosphate_is_never_read_in_milliequivalents(convert: object) -> None:
    with pytest.raises(UnitError, match="no fixed charge"):
        convert("phosphate", 1)  # type: ignore[operator]


def test_glucose_has_no_milliequivalents() -> None:
    with pytest.raises(UnitError, match="ion: glucose"):
        meq_from_mmol("glucose", 5)


def test_milligrams_of_calcium_and_of_calcium_gluconate_are_kept_apart() -> None:
    assert mg_from_mmol("calcium", 1) == pytest.approx(40.078)
    assert mg_from_mmol("calcium_gluconate", 1) == pytest.approx(448.39)
    assert mmol_from_mg("calcium", 93) == pytest.approx(2.32, abs=0.005)
    assert mmol_from_mg("calcium_gluconate", 1000) == pytest.approx(2.23, abs=0.005)


def test_ten_milliequivalents_of_calcium_gluconate_are_five_mmol() -> None:
    assert salt_mmol_from_meq("calcium_gluconate", 10) == 5


def test_milliequivalents_of_citrate_mean_its_sodium() -> None:
    assert salt_mmol_from_meq("sodium_citrate", 3) == 1


@pytest.mark.parametrize("key", ["potassium_phosphate", "glucose", "insulin"])
def test_milliequivalents_of_what_has_none_are_refused(key: str) -> None:
    with pytest.raises(UnitError):
        salt_mmol_from_meq(key, 10)
