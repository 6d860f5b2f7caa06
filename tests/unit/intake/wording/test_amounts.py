"""Amounts in mmol, and what stands in the way."""

import pytest

from app.intake.orders.quantities import Quantity
from app.intake.wording.amounts import doubt_of, mmol_of, what_lacks, with_only_strength
from app.intake.wording.parts import DoseWords

KCL, MAGNESIUM = "potassium_chloride", "magnesium_sulfate"


def dose(quantity: Quantity | None, **more: object) -> DoseWords:
    """A dose as taken from words."""
    parts: dict[str, object] = {"percent": None, "as_written": "as written", **more}
    return DoseWords(KCL, quantity, **parts)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("quantity", "percent", "mmol"),
    [
        (Quantity(20, "mmol"), None, 20), (Quantity(20, "mEq"), None, 20),
        (Quantity(20, ""), None, 20), (Quantity(1.5, "g"), None, 20.12),
        (Quantity(10, "mL"), 15.0, 20.12), (None, 0.3, 40.24),
    ],
)  # fmt: skip
def test_an_amount_is_counted(
    quantity: Quantity | None, percent: float | None, mmol: float
) -> None:
    assert mmol_of(KCL, dose(quantity, percent=percent)) == pytest.approx(mmol, rel=1e-3)


@pytest.mark.parametrize(
    ("quantity", "lack"),
    [
        (None, "no amount"), (Quantity(10, "mL"), "strength"), (Quantity(1, "ampoule"), "ampoule"),
        (Quantity(2, "mmol", by_kg=True), "weight"), (Quantity(2, "mmol", by_day="kg"), "rate"),
        (Quantity(2, "unit"), "the unit unit"), (Quantity(2, "mcg"), "mcg"),
    ],
)  # fmt: skip
def test_what_cannot_be_counted_says_why(quantity: Quantity | None, lack: str) -> None:
    assert mmol_of(KCL, dose(quantity)) is None
    assert lack in what_lacks(dose(quantity))


def test_magnesium_without_a_unit_is_not_counted() -> None:
    assert mmol_of(MAGNESIUM, dose(Quantity(2, ""))) is None
    assert "no unit" in what_lacks(dose(Quantity(2, "")))


def test_two_figures_that_differ_are_doubted() -> None:
    two_grams = dose(Quantity(2, "g"), also=Quantity(8, "mmol"))
    assert doubt_of(MAGNESIUM, two_grams, 8.1) == ""
    assert "do not agree" in doubt_of(
        MAGNESIUM, dose(Quantity(5, "g"), also=Quantity(10, "mmol")), 20
    )


def test_milligrams_of_potassium_are_doubted() -> None:
    assert "are mmol meant" in doubt_of(KCL, dose(Quantity(20, "mg")), 0.27)
    assert doubt_of(MAGNESIUM, dose(Quantity(100, "mg")), 0.4) == ""


def test_calcium_gluconate_is_made_in_one_strength() -> None:
    assert with_only_strength(dose(Quantity(10, "mL")), {"only_percent": 10}).percent == 10
    assert with_only_strength(dose(Quantity(10, "mL")), {}).percent is None
    assert with_only_strength(dose(Quantity(1, "g")), {"only_percent": 10}).percent is None
