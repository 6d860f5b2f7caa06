"""Potassium by the hour and glucose by the minute, worked by hand."""

from collections.abc import Callable

from app.web.prediction.pencil.rates import rate_rows
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.pencil.tried import Tried

Try = Callable[..., Tried]


def rows(*tried: Tried) -> dict[str, HandRow]:
    return {row.formula_id: row for row in rate_rows(tried)}


def test_a_bag_with_neither_has_no_row(tried: Try) -> None:
    assert rows(tried("sodium-chloride-0.9")) == {}


def test_potassium_goes_in_by_the_hour_and_the_kilogram(tried: Try) -> None:
    found = rows(tried("sodium-chloride-0.9", minutes=480, potassium_mmol=40))
    cell = found["potassium-rate"].cells[0]
    assert cell.by_hand == ("5 mmol/h", "0.07 mmol/kg/h")
    assert cell.curve[0][1].startswith("to 4.")


def test_glucose_is_counted_as_anhydrous(tried: Try) -> None:
    found = rows(tried("dextrose-5", minutes=480), tried("sodium-chloride-0.9", minutes=480))
    first, second = found["glucose-rate"].cells
    # 125 mL/h of 45.45 g/L in 70 kg.
    assert first.by_hand == ("1.4 mg/kg/min",)
    assert second.by_hand == ("none",)
