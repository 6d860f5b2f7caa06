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


def test_what_of_a_gas_was_worked_out_is_listed() -> None:
    def listed(**results: float) -> dict[str, str]:
        return {one.name: one.why for one in person(**results).assumed}

    assert "worked out from pH and pCO2" in listed(ph=7.2, pco2=30)["bicarbonate"]
    assert "worked out" in listed(ph=7.2, bicarbonate=12)["pco2"]
    assert "result says 13" in listed(ph=7.2, pco2=30, bicarbonate=13)["bicarbonate"]
    assert "bicarbonate" not in listed(ph=7.4, pco2=40, bicarbonate=24)


def test_a_ph_alone_is_shared_between_breathing_and_metabolism() -> None:
    one = person(ph=7.2)
    assert one.ph == pytest.approx(7.2)
    assert one.bicarbonate_mmol_l < 24 and one.pco2_mmhg > 40


def test_a_ph_that_no_breathing_gives_with_this_bicarbonate_is_refused() -> None:
    with pytest.raises(BaselineError, match="pCO2 of 6 to 200"):
        person(ph=7.7, bicarbonate=4)


def test_a_very_low_sodium_alone_is_a_start_with_a_chloride_to_match() -> None:
    one = person(sodium=105)
    assert one.chloride_mmol_l == pytest.approx(69)
    assert any(a.name == "chloride" and "moved" in a.why for a in one.assumed)


def test_what_is_on_record_is_known_of_the_person() -> None:
    ill = subject_of(
        weight_kg=70, age_years=50, sex="female", height_cm=165, results={},
        conditions=frozenset({"anuria", "diabetes", "pregnancy"}),
    )  # fmt: skip
    well = subject_of(weight_kg=70, age_years=50, sex="female", height_cm=165, results={})
    assert ill.anuric and ill.kidneys_fail and ill.diabetes
    assert ill.plasma_l > 1.3 * well.plasma_l and ill.haematocrit < well.haematocrit


def test_a_small_weight_is_a_childs_and_that_is_listed() -> None:
    baby = subject_of(weight_kg=4, age_years=None, sex=None, height_cm=None, results={})
    assert baby.ecf_of_water > 0.5
    assert any(one.name == "age_years" for one in baby.assumed)


def test_a_baseline_whose_charges_cannot_balance_is_refused() -> None:
    with pytest.raises(BaselineError, match="gap"):
        person(sodium=120, chloride=125, bicarbonate=24)


def test_haematocrit_follows_from_haemoglobin() -> None:
    assert person(haemoglobin=134).haematocrit == pytest.approx(0.4)


def test_scant_urine_is_under_half_a_ml_for_each_kg_an_hour() -> None:
    assert is_scant(20, 70) and not is_scant(40, 70)
    assert is_scant(30, None) and not is_scant(2, 3)
