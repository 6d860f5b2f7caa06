"""Named quantities as people read them."""

import pytest

from app.web.advice.figures import figure


@pytest.mark.parametrize(
    ("key", "value", "name", "text"),
    [
        ("potassium_mmol_l", 5.9, "Potassium", "5.9 mmol/L"),
        ("fluid_potassium_mmol_l", 20, "Fluid potassium", "20 mmol/L"),
        ("potassium_mmol_kg_h", 0.25, "Potassium", "0.25 mmol/kg/h"),
        ("rate_ml_h", 1250.0, "Rate", "1,250 mL/h"),
        ("weight_kg", 3.25, "Weight", "3.25 kg"),
        ("sodium_change_mmol_l_24h", -9.0, "Sodium change", "−9 mmol/L in 24 h"),
        ("ph", 7.1, "pH", "7.1"),
        ("site", "peripheral", "Site", "peripheral"),
        ("calcium_ionised_mmol_l", 0.9, "Ionised calcium", "0.9 mmol/L"),
    ],
)
def test_a_name_in_the_core_carries_its_unit(
    key: str, value: float | str, name: str, text: str
) -> None:
    read = figure(key, value)
    assert (read.name, read.value) == (name, text)
