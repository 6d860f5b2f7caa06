"""Beside each picture stands how far off it has been in published groups, or that none was."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.physiology.course.body import Subject, subject_of
from app.web.prediction import truth
from app.web.prediction.asked import Bag
from app.web.prediction.truth import truth_of

CHLORIDE = "chloride_mmol_l"


@pytest.fixture
def subject() -> Subject:
    return subject_of(weight_kg=70, age_years=40, sex="male", height_cm=None, results={})


def bag(catalogue: Catalogue, mark: str, fluid_id: str, potassium_mmol: float = 0) -> Bag:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return Bag(mark, fluid, potassium_mmol)


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Labels that say what was asked for, whatever the trials at hand."""
    monkeypatch.setattr(truth, "truth_label", lambda key, kind, dose: f"{kind} {dose:.1f}")


@pytest.mark.usefixtures("told")
def test_a_bag_is_held_against_its_kind_and_dose(catalogue: Catalogue, subject: Subject) -> None:
    saline = bag(catalogue, "A", "sodium-chloride-0.9")
    assert truth_of(CHLORIDE, [saline], 2000, subject) == "Saline 28.6."


@pytest.mark.usefixtures("told")
def test_salt_in_the_bag_leaves_its_fluid_what_it_is(
    catalogue: Catalogue, subject: Subject
) -> None:
    salted = bag(catalogue, "A", "sodium-chloride-0.9", 20)
    assert truth_of(CHLORIDE, [salted], 1000, subject) == "Saline 14.3."


@pytest.mark.usefixtures("told")
def test_two_fluids_each_have_their_own(catalogue: Catalogue, subject: Subject) -> None:
    pair = [bag(catalogue, "A", "sodium-chloride-0.9"), bag(catalogue, "B", "lactated-ringers")]
    assert truth_of(CHLORIDE, pair, 700, subject) == "A: Saline 10.0. B: Balanced 10.0."


@pytest.mark.usefixtures("told")
def test_a_fluid_of_no_kind_that_was_tried_says_so(catalogue: Catalogue, subject: Subject) -> None:
    sweet = bag(catalogue, "A", "dextrose-5-lactated-ringers")
    assert truth_of(CHLORIDE, [sweet], 700, subject) == "None 0.0."


def test_what_no_trial_measured_is_said_once(catalogue: Catalogue, subject: Subject) -> None:
    pair = [bag(catalogue, "A", "sodium-chloride-0.9"), bag(catalogue, "B", "lactated-ringers")]
    said = truth_of("intracellular_volume_ml", pair, 1000, subject)
    assert said == "How far off this may be is not known: no trial like this."
