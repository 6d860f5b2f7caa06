"""What is left out comes in the order in which it matters to this patient."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.body import subject_of
from app.physiology.course.loads import Load
from app.physiology.course.telling.left_out import NOT_MODELLED, left_out_of

SALINE = Load(Composition(sodium_mmol_l=154, chloride_mmol_l=154), 1.0, 0, 60)
CALCIUM = Load(Composition(calcium_mmol_l=220, chloride_mmol_l=440), 0.01, 0, 5)


def left_out(*conditions: str, load: Load = SALINE, **results: float) -> tuple[str, ...]:
    subject = subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=178, results=results,
        conditions=frozenset(conditions),
    )  # fmt: skip
    return left_out_of(subject, [load])


def test_a_well_man_has_the_list_alone() -> None:
    assert left_out() == NOT_MODELLED


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        ("septic_shock", "vessels leak in septic shock"),
        ("postoperative", "after surgery water is kept"),
        ("siadh", "keep water"),
        ("diabetic_ketoacidosis", "ketones clear"),
        ("anuria", "goes on making"),
        ("acute_kidney_injury", "goes on making"),
        ("major_burns", "burns"),
        ("haemorrhage", "bleeds"),
    ],
)
def test_what_concerns_the_patient_comes_first(condition: str, words: str) -> None:
    assert words in left_out(condition)[0]
    assert left_out(condition)[-len(NOT_MODELLED) :] == NOT_MODELLED


def test_a_low_sodium_warns_of_water_that_runs_off() -> None:
    assert "Urine over 100 mL/h" in left_out(sodium=112)[0]
    assert "Urine over 100 mL/h" not in " ".join(left_out("pregnancy", sodium=135))


def test_a_glucose_that_drives_urine_is_told() -> None:
    assert "drives urine" in left_out(glucose=30)[0]


def test_calcium_given_is_said_to_have_no_line() -> None:
    assert "calcium" in left_out(load=CALCIUM)[0]
