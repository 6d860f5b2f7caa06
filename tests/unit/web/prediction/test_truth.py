"""Beside each picture stands how far off it has been in published groups, or that none was."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.physiology.course.body import Subject, subject_of
from app.review.trials.errors import NO_TRIAL
from app.web.prediction import truth
from app.web.prediction.asked import Bag
from app.web.prediction.truth import Truth, truth_of, untried_words

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

    def label(key: str, kind: str | None, dose: float, minutes: float | None) -> str:
        return NO_TRIAL if kind is None else f"{kind} {dose:.1f} at {minutes}; and more"

    monkeypatch.setattr(truth, "truth_label", label)
    monkeypatch.setattr(truth, "is_stale", lambda: False)


@pytest.mark.usefixtures("told")
def test_a_bag_is_held_against_its_kind_and_dose(catalogue: Catalogue, subject: Subject) -> None:
    saline = bag(catalogue, "A", "sodium-chloride-0.9")
    found = truth_of(CHLORIDE, [saline], 2000, subject, 240)
    assert found == Truth("Saline 28.6 at 240.", "Saline 28.6 at 240; and more.")


@pytest.mark.usefixtures("told")
def test_salt_in_the_bag_leaves_its_fluid_what_it_is(
    catalogue: Catalogue, subject: Subject
) -> None:
    salted = bag(catalogue, "A", "sodium-chloride-0.9", 20)
    assert truth_of(CHLORIDE, [salted], 1000, subject, 60).short == "Saline 14.3 at 60."


@pytest.mark.usefixtures("told")
def test_two_fluids_each_have_their_own(catalogue: Catalogue, subject: Subject) -> None:
    pair = [bag(catalogue, "A", "sodium-chloride-0.9"), bag(catalogue, "B", "lactated-ringers")]
    found = truth_of(CHLORIDE, pair, 700, subject, 60)
    assert found.short == "A: Saline 10.0 at 60. B: Balanced 10.0 at 60."


@pytest.mark.usefixtures("told")
def test_where_no_trial_was_nothing_stands_beside_the_picture(
    catalogue: Catalogue, subject: Subject
) -> None:
    other = bag(catalogue, "B", "dextrose-5-sodium-chloride-0.9")
    assert truth_of(CHLORIDE, [other], 700, subject) == Truth()
    pair = [bag(catalogue, "A", "sodium-chloride-0.9"), other]
    assert truth_of(CHLORIDE, pair, 700, subject, 60).short == "A: Saline 10.0 at 60."


NAMED = ((CHLORIDE, "chloride"), ("intracellular_volume_ml", "cell volume"))


@pytest.fixture
def scored(monkeypatch: pytest.MonkeyPatch) -> None:
    """The model in force is the one that was scored."""
    monkeypatch.setattr(truth, "is_stale", lambda: False)


@pytest.mark.usefixtures("scored")
def test_what_no_trial_measured_is_said_once_for_all(
    catalogue: Catalogue, subject: Subject
) -> None:
    saline = bag(catalogue, "A", "sodium-chloride-0.9")
    assert untried_words(NAMED, [saline], 2000, subject) == (
        "How far off it may be is not known, no trial like this, for cell volume."
    )
    other = bag(catalogue, "B", "dextrose-5-sodium-chloride-0.9")
    assert untried_words(NAMED, [other], 2000, subject) == truth.NONE_AT_ALL
    assert untried_words(NAMED, [saline, other], 2000, subject).endswith(
        "for A: cell volume; B: everything."
    )


@pytest.mark.usefixtures("scored")
def test_where_every_quantity_was_measured_nothing_is_said(
    catalogue: Catalogue, subject: Subject
) -> None:
    saline = bag(catalogue, "A", "sodium-chloride-0.9")
    assert untried_words(NAMED[:1], [saline], 2000, subject) == ""


@pytest.mark.usefixtures("told")
def test_a_score_of_another_model_is_not_told(
    catalogue: Catalogue, subject: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    saline = bag(catalogue, "A", "sodium-chloride-0.9")
    monkeypatch.setattr(truth, "is_stale", lambda: True)
    assert truth_of(CHLORIDE, [saline], 2000, subject) == Truth()
    assert untried_words(NAMED, [saline], 2000, subject) == truth.STALE
