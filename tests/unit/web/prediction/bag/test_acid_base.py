"""Both teachings in a sentence each with their figures, and the model beside them."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.physiology.course.body import Subject, subject_of
from app.physiology.course.course import course_of
from app.web.prediction.asked import Bag
from app.web.prediction.bag.acid_base import AcidBase, acid_base_words, moved_at


def subject(bicarbonate: float = 24.5, *conditions: str) -> Subject:
    return subject_of(
        weight_kg=70, age_years=50, sex="male", height_cm=None,
        results={"bicarbonate": bicarbonate, "chloride": 128.5 - bicarbonate},
        conditions=frozenset(conditions),
    )  # fmt: skip


def words(catalogue: Catalogue, fluid_id: str, whom: Subject, volume_ml: float = 2000) -> AcidBase:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    bag = Bag("A", fluid, 0)
    course = course_of(whom, (bag.load(volume_ml, 120),), horizon_min=240, step_min=30, samples=60)
    return acid_base_words(bag, volume_ml, 120, whom, course)


def test_saline_goes_down_by_both_and_by_the_model(catalogue: Catalogue) -> None:
    found = words(catalogue, "sodium-chloride-0.9", subject())
    assert found.strong == (
        "The bag's strong ion difference is 0 mEq/L, under this patient's bicarbonate of 24.5: "
        "bicarbonate and pH go down."
    )
    assert found.bicarbonate == (
        "2 L needs 49 mmol to hold bicarbonate at 24.5, and brings 0 mmol of it or of what becomes "
        "it: bicarbonate and pH go down."
    )
    assert found.model.startswith("At 2 h bicarbonate −")
    assert found.line.startswith("Bicarbonate about ")
    assert " lower (−" in found.line
    assert found.line.endswith(" mmol/L) at 2 h.")
    assert "otherwise" not in found.model
    assert found.differ == ""


def test_a_buffered_fluid_raises_a_low_bicarbonate(catalogue: Catalogue) -> None:
    found = words(catalogue, "lactated-ringers", subject(12))
    assert "once lactate is used, is 27.7 mEq/L, above" in found.strong
    assert "brings 56 mmol" in found.bicarbonate
    assert found.strong.endswith("go up.")
    assert found.bicarbonate.endswith("go up.")
    assert found.model.startswith("At 2 h bicarbonate +")
    assert " higher (" in found.line


def test_where_the_two_disagree_the_page_says_so_and_why(catalogue: Catalogue) -> None:
    found = words(catalogue, "gelatin-4", subject())
    assert found.differ.startswith("The two teachings disagree: its gelatin carries")


def test_what_slows_the_use_of_buffers_is_said(catalogue: Catalogue) -> None:
    whom = subject(24.5, "shock", "severe_liver_failure")
    found = words(catalogue, "multiple-electrolytes-type-1-ph-7.4", whom)
    assert found.notes[0].startswith("Until acetate and gluconate are used the bag pulls down")
    assert "Part of gluconate leaves unused" in found.notes[1]
    assert words(catalogue, "sodium-chloride-0.9", whom).notes == ()


def test_the_model_is_told_when_the_bag_is_in_or_as_far_as_is_looked(
    catalogue: Catalogue,
) -> None:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    bag, whom = Bag("A", fluid, 0), subject()
    course = course_of(whom, (bag.load(2000, 90),), horizon_min=120, step_min=60, samples=20)
    first, last = (course.series["bicarbonate_mmol_l"].mid[n] for n in (1, 2))
    start = course.series["bicarbonate_mmol_l"].mid[0]
    assert moved_at(course, "bicarbonate_mmol_l", 90) == pytest.approx((first + last) / 2 - start)
    assert acid_base_words(bag, 2000, 90, whom, course).model.startswith("At 1 h 30 min ")
    assert acid_base_words(bag, 2000, 600, whom, course).model.startswith("At 2 h ")


def test_where_ketones_rule_it_bicarbonate_is_not_told(catalogue: Catalogue) -> None:
    whom = subject(8, "diabetic_ketoacidosis")
    found = words(catalogue, "sodium-chloride-0.9", whom)
    assert found.line.startswith("Bicarbonate is not predicted: ketones")
    assert found.model.startswith("It says nothing of bicarbonate and pH: ketones")
    assert "goes down" not in found.line
