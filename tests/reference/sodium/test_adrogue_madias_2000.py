"""Adrogue and Madias, N Engl J Med 2000;342:1581 (hyponatraemia) and 342:1493 (hypernatraemia).

The published cases. Arithmetic worked again here; case details from memory, text not seen.
Non-linear scaling by volume: PMC8740981, abstract seen.
"""

import pytest

from app.physiology.compartments import water_share
from app.physiology.sodium import sodium_change_mmol_l, volume_for_change_l

# case, Na + K of the fluid, sodium, body water L, change by 1 L as printed
CASES = [
    ("woman 46 kg, 3% saline", 513, 112, 23.0, 16.7),
    ("man 60 kg, 3% saline", 513, 108, 36.0, 10.9),
    ("woman 60 kg, 0.9% saline with potassium 30", 184, 106, 27.0, 2.8),
    ("man 68 kg, 5% dextrose", 0, 168, 34.0, -4.8),
    ("5% dextrose in 0.2% saline", 34, 158, 31.5, -3.8),
    ("man, 5% dextrose", 0, 156, 51.0, -3.0),
]


@pytest.mark.parametrize(("case", "fluid", "sodium", "water", "change"), CASES)
def test_one_litre_changes_sodium_as_the_paper_prints(
    case: str, fluid: float, sodium: float, water: float, change: float
) -> None:
    worked = sodium_change_mmol_l(
        infusate_mmol_l=fluid, volume_l=1, sodium_mmol_l=sodium, body_water_l=water
    )
    assert worked == pytest.approx(change, abs=0.06)


@pytest.mark.parametrize(
    ("sodium", "water", "change", "litres"),
    [(112, 23.0, 3.0, 0.18), (108, 36.0, 5.0, 0.46)],
)
def test_the_volume_of_3_percent_saline_for_a_rise_is_near_the_papers_scaled_one(
    sodium: float, water: float, change: float, litres: float
) -> None:
    worked = volume_for_change_l(
        infusate_mmol_l=513, change_mmol_l=change, sodium_mmol_l=sodium, body_water_l=water
    )
    assert worked == pytest.approx(litres, rel=0.05)


@pytest.mark.parametrize(
    ("fluid", "sodium", "water", "litres", "change"),
    [(513, 112, 23.0, 0.18, 3.114), (0, 168, 34.0, 2.1, -9.773)],
)
def test_the_exact_volume_form_is_not_the_one_litre_answer_scaled(
    fluid: float, sodium: float, water: float, litres: float, change: float
) -> None:
    worked = sodium_change_mmol_l(
        infusate_mmol_l=fluid, volume_l=litres, sodium_mmol_l=sodium, body_water_l=water
    )
    assert worked == pytest.approx(change, rel=0.005)


@pytest.mark.parametrize(
    ("age", "sex", "share"),
    [
        (40, "male", 0.6),
        (40, "female", 0.5),
        (75, "male", 0.5),
        (75, "female", 0.45),
        (6, None, 0.6),
    ],
)
def test_the_papers_shares_of_body_water(age: float, sex: str | None, share: float) -> None:
    assert water_share(age, sex) == share  # type: ignore[arg-type]
