"""Size of a body: surface, weights to dose by, filtration, blood; and an infusion in two spaces."""

from typing import Final

from app.physiology.body import (
    adjusted_weight_kg,
    blood_volume_l,
    ideal_weight_kg,
    plasma_volume_l,
    surface_m2,
)
from app.physiology.formulas.formula import Formula, Part, Source, Subject, Term, example
from app.physiology.kidney import UMOL_L_PER_MG_DL, creatinine_clearance_ml_min

HEIGHT: Final = Term("height_cm", "height", "cm")
WEIGHT: Final = Term("weight_kg", "weight", "kg")

SURFACE: Final = Formula(
    id="body-surface",
    title="Body surface",
    terms=(HEIGHT, WEIGHT),
    sources=(Source("Mosteller, N Engl J Med 1987;317:1098"),),
    misleads=("Formulas for surface differ by a few percent, and by more in obesity.",),
    parts=(
        Part("", "√(height × weight ÷ 3600)", "m²", surface_m2, (
            example(1.818, height_cm=170, weight_kg=70),
            example(0.7416, height_cm=110, weight_kg=18),
            example(1.563, height_cm=160, weight_kg=55),
        )),
    ),
)  # fmt: skip


def _ideal_man(*, height_cm: float) -> float:
    return ideal_weight_kg(height_cm, "male")


def _ideal_woman(*, height_cm: float) -> float:
    return ideal_weight_kg(height_cm, "female")


WEIGHTS: Final = Formula(
    id="ideal-weight",
    title="Ideal and adjusted weight of an adult",
    terms=(
        HEIGHT,
        Term("ideal_kg", "ideal", "kg"),
        Term("actual_kg", "actual", "kg", "weight on the scales"),
    ),
    sources=(Source("Devine 1974; the adjusted weight is common practice, no source"),),
    misleads=("Not defined under 152.4 cm (5 feet).", "Knows nothing of build or muscle."),
    parts=(
        Part("Ideal, men", "50 + 0.91 × (height − 152.4)", "kg", _ideal_man, (
            example(70.57, height_cm=175),
        )),
        Part("Ideal, women", "45.5 + 0.91 × (height − 152.4)", "kg", _ideal_woman, (
            example(52.42, height_cm=160),
        )),
        Part("Adjusted", "ideal + 0.4 × (actual − ideal)", "kg", adjusted_weight_kg, (
            example(75.45, "woman of 160 cm", ideal_kg=52.42, actual_kg=110),
            example(101.1, "man of 180 cm", ideal_kg=75.12, actual_kg=140),
        )),
    ),
)  # fmt: skip


def _clearance_man(*, age_years: float, weight_kg: float, creatinine_umol_l: float) -> float:
    return creatinine_clearance_ml_min(
        creatinine_umol_l=creatinine_umol_l, age_years=age_years, weight_kg=weight_kg, sex="male"
    )


def _clearance_woman(*, age_years: float, weight_kg: float, creatinine_umol_l: float) -> float:
    return creatinine_clearance_ml_min(
        creatinine_umol_l=creatinine_umol_l, age_years=age_years, weight_kg=weight_kg, sex="female"
    )


CLEARANCE: Final = Formula(
    id="creatinine-clearance",
    title="Creatinine clearance",
    terms=(
        Term("age_years", "age", "years"),
        WEIGHT,
        Term("creatinine_umol_l", "creatinine", "µmol/L", "88.4 µmol/L is 1 mg/dL"),
    ),
    sources=(Source("Cockcroft and Gault, Nephron 1976;16:31"),),
    misleads=(
        "Not in acute kidney injury: creatinine lags, and the true figure is lower.",
        "Printed factors for µmol/L (1.23 for men, 1.04 for women) are rounded, and differ by up "
        "to half a percent.",
        "In obesity say which weight was used.",
    ),
    parts=(
        Part("Men", "(140 − age) × weight ÷ (72 × creatinine ÷ 88.4)", "mL/min", _clearance_man, (
            example(64.81, "creatinine 1.2 mg/dL", age_years=60, weight_kg=70,
                    creatinine_umol_l=1.2 * UMOL_L_PER_MG_DL),
            example(64.98, "by the printed factor 1.23", age_years=60, weight_kg=70,
                    creatinine_umol_l=106),
        )),
        Part("Women", "0.85 × (140 − age) × weight ÷ (72 × creatinine ÷ 88.4)", "mL/min",
             _clearance_woman, (
            example(30.69, "creatinine 1.5 mg/dL", age_years=75, weight_kg=60,
                    creatinine_umol_l=1.5 * UMOL_L_PER_MG_DL),
            example(30.50, "by the printed factor 1.04", age_years=75, weight_kg=60,
                    creatinine_umol_l=133),
        )),
    ),
)  # fmt: skip


def _blood_man(*, height_cm: float, weight_kg: float) -> float:
    return blood_volume_l(sex="male", height_cm=height_cm, weight_kg=weight_kg)


def _blood_woman(*, height_cm: float, weight_kg: float) -> float:
    return blood_volume_l(sex="female", height_cm=height_cm, weight_kg=weight_kg)


BLOOD: Final = Formula(
    id="blood-volume",
    title="Blood and plasma volume of an adult",
    terms=(
        HEIGHT,
        WEIGHT,
        Term("blood_l", "blood", "L"),
        Term("haematocrit", "haematocrit", "", "as a fraction"),
    ),
    sources=(Source("Nadler, Hidalgo, Bloch, Surgery 1962;51:224"),),
    misleads=(
        "Healthy adults; too high in obesity, and not for children or pregnancy.",
        "Haematocrit from a vein is a little above that of the whole body.",
    ),
    parts=(
        Part("Blood, men", "0.3669 × (height ÷ 100)³ + 0.03219 × weight + 0.6041", "L", _blood_man,
             (example(4.824, height_cm=175, weight_kg=70),)),
        Part("Blood, women", "0.3561 × (height ÷ 100)³ + 0.03308 × weight + 0.1833", "L",
             _blood_woman, (example(3.768, height_cm=165, weight_kg=60),)),
        Part("Plasma", "blood × (1 − haematocrit)", "L", plasma_volume_l, (
            example(2.653, "the man", blood_l=4.824, haematocrit=0.45),
            example(2.261, "the woman", blood_l=3.768, haematocrit=0.40),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Size of a body", (SURFACE, WEIGHTS, CLEARANCE, BLOOD))
