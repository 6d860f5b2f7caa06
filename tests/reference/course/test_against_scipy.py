"""The stepped model against scipy's solver on the same equations, written apart."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.course import course_of
from app.physiology.course.loads import Load, Loss
from tests.reference.course.equations import Person

SUBJECT = subject_of(
    weight_kg=70, age_years=50, sex="male", height_cm=178, results={"potassium": 3.4}
)
FLUIDS = {
    "saline": Composition(sodium_mmol_l=154, chloride_mmol_l=154),
    "balanced": Composition(
        sodium_mmol_l=140, potassium_mmol_l=5, magnesium_mmol_l=1.5, chloride_mmol_l=98,
        acetate_mmol_l=27, gluconate_mmol_l=23,
    ),
    "lactated": Composition(
        sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
        lactate_mmol_l=28,
    ),
    "strong": Composition(sodium_mmol_l=513, chloride_mmol_l=513),
    "sugar": Composition(glucose_g_l=50),
    "albumin": Composition(sodium_mmol_l=130, chloride_mmol_l=100, albumin_g_l=200),
    "potassium": Composition(sodium_mmol_l=154, potassium_mmol_l=40, chloride_mmol_l=194),
}  # fmt: skip
# Split steps of a minute or two against a solver of its own choice of steps.
WITHIN = {
    "sodium_mmol_l": 0.15, "potassium_mmol_l": 0.05, "chloride_mmol_l": 0.15, "lactate_mmol_l": 0.1,
    "glucose_mmol_l": 0.4, "albumin_g_l": 0.5, "plasma_volume_ml": 40, "interstitial_volume_ml": 60,
}  # fmt: skip


@pytest.mark.parametrize("fluid", FLUIDS)
@pytest.mark.parametrize("minutes", [60, 120, 240])
def test_the_stepped_course_is_the_solved_one(fluid: str, minutes: float) -> None:
    litres = 0.2 if fluid in ("strong", "albumin") else 1.0
    load = Load(FLUIDS[fluid], litres, 0, 60)
    stepped = course_of(
        SUBJECT, [load], [Loss("urine", 0.0)], horizon_min=minutes, step_min=minutes, samples=1
    )
    for name, value in Person(SUBJECT, [load]).solved(minutes).items():
        assert stepped.series[name].mid[-1] == pytest.approx(value, abs=WITHIN[name]), name
