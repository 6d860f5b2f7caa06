"""Amounts that custom alone says how to take."""

import pytest

from app.intake.orders.quantities import Quantity
from app.intake.wording.parts import DoseWords
from app.intake.wording.usual import per_litre_of, per_litre_unsaid


def dose(
    quantity: Quantity | None, key: str = "potassium_chloride", percent: float | None = None
) -> DoseWords:
    return DoseWords(key, quantity, percent, "as written")


@pytest.mark.parametrize("unit", ["mmol", "mEq", ""])
def test_potassium_beside_a_bag_of_no_volume_is_in_each_litre(unit: str) -> None:
    (spread,) = per_litre_unsaid((dose(Quantity(20, unit)),))
    assert spread.quantity == Quantity(20, unit, per_litre=True)


@pytest.mark.parametrize(
    "kept",
    [
        dose(Quantity(100, "mmol")), dose(Quantity(2, "g")), dose(None, percent=15),
        dose(Quantity(2, "mmol", by_kg=True)), dose(Quantity(20, "mmol"), key="magnesium_sulfate"),
    ],
)  # fmt: skip
def test_what_is_not_usual_is_left_as_it_is(kept: DoseWords) -> None:
    assert per_litre_unsaid((kept,)) == (kept,)


def test_a_premix_is_known_by_its_potassium_in_each_litre() -> None:
    assert per_litre_of(dose(Quantity(20, "mmol", per_litre=True)), None) == 20
    assert per_litre_of(dose(Quantity(20, "mmol")), 1000) == 20
    assert per_litre_of(dose(Quantity(20, "mmol")), 500) is None
    assert per_litre_of(dose(None, percent=0.3), None) == 40
    assert per_litre_of(dose(Quantity(1.5, "g")), 1000) is None
