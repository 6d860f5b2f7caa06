"""A person before anything runs."""

import pytest

from app.physiology.course.body import BaselineError, is_scant, subject_of


def person(**results: float):  # noqa: ANN201
    return subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results=results)


def test_what_nobody_gave_is_assumed_and_listed() -> None:
    names = {one.name for one in person(sodium=131).assumed}
    assert "sodium" not in names and {"potassium", "chloride", "haematocrit"} <= names
    unknown = subject_of(weight_kg=None, age_years=None, sex=None, height_cm=None, results={})
    assert unknown.weight_kg == 70 and unknown.assumed[0].name == "weight_kg"


def test_a_child_without_a_weight_is_refused_by_field() -> None:
    with pytest.raises(BaselineError) as refused:
        subject_of(weight_kg=None, age_years=4, sex=None, height_cm=None, results={})
    assert refused.value.field == "weight_kg"


def test_a_gas_whose_three_figures_contradict_each_other_is_refused() -> None:
    with pytest.raises(BaselineError, match="bicarbonate about"):
        person(ph=7.4, pco2=40, bicarbonate=12)


def test_bicarbonate_follows_from_ph_and_carbon_dioxide() -> None:
    assert person(ph=7.2, pco2=30).bicarbonate_mmol_l == pytest.approx(11.4, abs=0.1)
    assert person(ph=7.2, bicarbonate=12).ph == pytest.approx(7.2)


def test_a_baseline_whose_charges_cannot_balance_is_refused() -> None:
    with pytest.raises(BaselineError, match="gap"):
        person(sodium=120, chloride=125, bicarbonate=24)


def test_haematocrit_follows_from_haemoglobin() -> None:
    assert person(haemoglobin=134).haematocrit == pytest.approx(0.4)


def test_scant_urine_is_under_half_a_ml_for_each_kg_an_hour() -> None:
    assert is_scant(20, 70) and not is_scant(40, 70)
    assert is_scant(30, None) and not is_scant(2, 3)
