"""US label texts, DESCRIPTION and HOW SUPPLIED sections (seen), and the conversions they print.

Lactated Ringer's, 0.9% sodium chloride, potassium chloride, calcium gluconate, calcium chloride,
magnesium sulfate, sodium bicarbonate, potassium phosphates. Tolerance 0.5% unless a label rounds
more coarsely, then half of its last digit.
"""

import pytest

from app.chemistry.composition import Composition
from app.chemistry.salts import salt_amounts, salt_mg_from_mmol, salt_mmol_from_g
from app.chemistry.units import meq_from_mmol

ARITHMETIC = 0.005


@pytest.mark.parametrize(
    ("salt", "grams", "mmol", "where"),
    [
        ("sodium_chloride", 9.0, 154.0, "0.9% sodium chloride, 154 mEq/L"),
        ("calcium_chloride", 0.20, 1.360, "lactated Ringer's, 0.2 g/L"),
        ("magnesium_sulfate", 2.0, 8.115, "2 g of the heptahydrate, 16.23 mEq"),
        ("sodium_bicarbonate", 0.084, 1.0, "84 mg holds 1 mmol"),
        ("glucose_monohydrate", 50.0, 252.3, "5% dextrose, 252 mOsm/L"),
        ("glucose", 50.0, 277.5, "UK 5% glucose, 278 mOsm/L"),
        ("sodium_lactate", 3.1, 27.7, "lactated Ringer's, 28 mEq/L"),
        ("sodium_lactate", 18.7, 166.9, "one-sixth molar, 167 mEq/L"),
        ("calcium_gluconate", 1.0, 2.2302, "1 g of the monohydrate"),
    ],
)
def test_a_labels_grams_are_its_millimoles(
    salt: str, grams: float, mmol: float, where: str
) -> None:
    assert salt_mmol_from_g(salt, grams) == pytest.approx(mmol, rel=ARITHMETIC), where


def test_twenty_mmol_of_potassium_chloride_weigh_what_the_label_says() -> None:
    assert salt_mg_from_mmol("potassium_chloride", 20) == pytest.approx(1491, rel=ARITHMETIC)


def test_lactated_ringers_calcium_is_2_7_milliequivalents() -> None:
    calcium_mmol = salt_mmol_from_g("calcium_chloride", 0.20)
    assert meq_from_mmol("calcium", calcium_mmol) == pytest.approx(2.721, rel=ARITHMETIC)


def test_ten_ml_of_calcium_gluconate_hold_2_3_mmol_by_the_labels_masses() -> None:
    """98 mg gluconate monohydrate with 4.6 mg saccharate tetrahydrate a mL, 0.465 mEq/mL."""
    saccharate_tetrahydrate_g_mol = 320.27
    calcium_mmol_ml = (
        salt_mmol_from_g("calcium_gluconate", 0.098) + 4.6 / saccharate_tetrahydrate_g_mol
    )
    assert meq_from_mmol("calcium", calcium_mmol_ml) == pytest.approx(0.465, abs=0.002)


def test_calcium_chloride_brings_three_times_the_calcium_of_gluconate() -> None:
    ratio = salt_mmol_from_g("calcium_chloride", 1) / salt_mmol_from_g("calcium_gluconate", 1)
    assert ratio == pytest.approx(3.05, abs=0.01)


def test_potassium_phosphates_masses_give_three_mmol_and_4_4_milliequivalents() -> None:
    """224 mg monobasic and 236 mg dibasic a mL (older label): our 4.7 is the newer, larger one."""
    monobasic = salt_mmol_from_g("potassium_dihydrogen_phosphate", 0.224)
    dibasic = salt_mmol_from_g("dipotassium_phosphate", 0.236)
    assert monobasic + dibasic == pytest.approx(3.0, rel=ARITHMETIC)
    assert monobasic + 2 * dibasic == pytest.approx(4.4, abs=0.05)
    as_counted = salt_amounts("potassium_phosphate", 3).potassium_mmol_l
    assert as_counted == pytest.approx(4.7)


LITRE_SALTS_G = {
    "lactated-ringers": {
        "sodium_chloride": 6.0, "sodium_lactate": 3.1, "potassium_chloride": 0.3,
        "calcium_chloride": 0.2,
    },
    "compound-sodium-lactate": {
        "sodium_chloride": 6.0, "sodium_lactate": 3.2, "potassium_chloride": 0.4,
        "calcium_chloride": 0.27,
    },
    "multiple-electrolytes-type-1-ph-7.4": {
        "sodium_chloride": 5.26, "sodium_gluconate": 5.02, "sodium_acetate": 3.68,
        "potassium_chloride": 0.37, "magnesium_chloride": 0.30,
    },
    "ringers-injection": {
        "sodium_chloride": 8.6, "potassium_chloride": 0.3, "calcium_chloride": 0.33,
    },
}  # fmt: skip


def litre_of(salts_g: dict[str, float]) -> dict[str, float]:
    """Ions of a litre from its salts by mass."""
    total: dict[str, float] = {}
    for salt, grams in salts_g.items():
        given = salt_amounts(salt, salt_mmol_from_g(salt, grams)).amounts()
        for field, value in given.items():
            total[field] = total.get(field, 0.0) + (value or 0.0)
    return total


@pytest.mark.parametrize(
    ("fluid_id", "field", "label"),
    [
        ("lactated-ringers", "sodium_mmol_l", 130),
        ("lactated-ringers", "potassium_mmol_l", 4),
        ("lactated-ringers", "calcium_mmol_l", 1.35),
        ("lactated-ringers", "chloride_mmol_l", 109),
        ("lactated-ringers", "lactate_mmol_l", 28),
        ("compound-sodium-lactate", "sodium_mmol_l", 131),
        ("compound-sodium-lactate", "potassium_mmol_l", 5),
        ("compound-sodium-lactate", "calcium_mmol_l", 2),
        ("compound-sodium-lactate", "chloride_mmol_l", 111),
        ("compound-sodium-lactate", "lactate_mmol_l", 29),
        ("multiple-electrolytes-type-1-ph-7.4", "sodium_mmol_l", 140),
        ("multiple-electrolytes-type-1-ph-7.4", "potassium_mmol_l", 5),
        ("multiple-electrolytes-type-1-ph-7.4", "magnesium_mmol_l", 1.5),
        ("multiple-electrolytes-type-1-ph-7.4", "chloride_mmol_l", 98),
        ("multiple-electrolytes-type-1-ph-7.4", "acetate_mmol_l", 27),
        ("multiple-electrolytes-type-1-ph-7.4", "gluconate_mmol_l", 23),
        ("ringers-injection", "sodium_mmol_l", 147.5),
        ("ringers-injection", "calcium_mmol_l", 2.25),
        ("ringers-injection", "chloride_mmol_l", 156),
    ],
)
def test_a_labels_ions_follow_from_its_salts_by_mass(
    fluid_id: str, field: str, label: float
) -> None:
    """Labels round ions, and makers set salts within the pharmacopoeia: 0.9 mmol/L is allowed."""
    assert litre_of(LITRE_SALTS_G[fluid_id])[field] == pytest.approx(label, abs=0.9)


def test_acetate_malate_solution_balances_only_with_its_sodium_hydroxide() -> None:
    """UK summary of product characteristics (seen): 0.2 g/L NaOH neutralises half the acid."""
    litre = litre_of({
        "sodium_chloride": 6.80, "potassium_chloride": 0.30, "magnesium_chloride": 0.20,
        "calcium_chloride": 0.37, "sodium_acetate": 3.27, "malic_acid": 0.67,
    })  # fmt: skip
    sodium_hydroxide_mmol = 0.2 * 1000 / 39.997
    litre["sodium_mmol_l"] += sodium_hydroxide_mmol
    composition = Composition(**{k: v for k, v in litre.items() if k.endswith("_mmol_l")})
    assert composition.sodium_mmol_l == pytest.approx(145, abs=0.5)
    assert composition.charge_gap_meq_l == pytest.approx(0, abs=0.2)
    assert composition.strong_ion_difference_meq_l == pytest.approx(29, abs=0.3)
