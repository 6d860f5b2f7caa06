"""An amount with its unit, standing among words."""

import pytest

from app.intake.orders.quantities import Quantity, quantity_at
from app.intake.vocabulary import words_of


@pytest.mark.parametrize(
    ("written", "quantity"),
    [
        ("20 mmol", Quantity(20, "mmol")), ("20 mmol/L", Quantity(20, "mmol", per_litre=True)),
        ("20 mmol/500 mL", Quantity(40, "mmol", per_litre=True, bag_ml=500)),
        ("20 mmol/10 mL", Quantity(20, "mmol", in_ml=10)), ("2 mmol/mL", Quantity(2, "mmol",
        in_ml=1)), ("3 mmol/kg/day", Quantity(3, "mmol", by_day="kg")),
        ("40 mmol/day", Quantity(40, "mmol", by_day="whole")), ("5 %", Quantity(5, "%")),
        ("20 mmol/h", Quantity(20, "mmol")),
    ],
)  # fmt: skip
def test_an_amount_says_what_it_is_for(written: str, quantity: Quantity) -> None:
    assert quantity_at(words_of(written), 0)[0] == quantity


def test_a_word_is_no_amount() -> None:
    assert quantity_at(("mmol", "20"), 0) == (None, 1)


@pytest.mark.parametrize(
    ("quantity", "percent"),
    [(Quantity(50, "mg", in_ml=1), 5), (Quantity(9, "g", per_litre=True), 0.9),
     (Quantity(20, "mmol"), None), (Quantity(9, "g"), None)],
)  # fmt: skip
def test_a_mass_in_a_volume_is_a_strength(quantity: Quantity, percent: float | None) -> None:
    assert quantity.percent == percent
