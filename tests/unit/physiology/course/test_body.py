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


def test_bicarbonate_follows_from_ph_and_carbon_dioxide() -> None:
    assert person(ph=7.2, pco2=30).bicarbonate_mmol_l == pytest.approx(11.4, abs=0.1)
    assert person(ph=7.2, bicarbonate=12).ph == pytest.approx(7.2)


def test_a_baseline_whose_charges_cannot_balance_is_refused() -> None:
    with pytest.raises(BaselineError, match="gap"):
        person(sodium=120, chloride=125, bicarbonate=24)


def test_a_very_low_sodium_alone_is_a_start() -> None:
    assert person(sodium=105).chloride_mmol_l == pytest.approx(69)


def test_what_is_on_record_is_known_of_the_person() -> None:
    ill = subject_of(
        weight_kg=70, age_years=50, sex="female", height_cm=165, results={},
        conditions=frozenset({"anuria", "diabetes", "pregnancy"}),
    )  # fmt: skip
    well = subject_of(weight_kg=70, age_years=50, sex="female", height_cm=165, results={})
    assert ill.anuric and ill.kidneys_fail and ill.diabetes
    assert ill.plasma_l > 1.3 * well.plasma_l and ill.haematocrit < well.haematocrit


def test_sizes_that_nobody_gave_are_listed_with_what_they_were_worked_out_from() -> None:
    why = {one.name: (one.value, one.why) for one in person().assumed}
    assert why["body water"] == (person().water_l, "by age, height and weight")
    assert why["blood volume"][0] == pytest.approx(person().plasma_l / 0.56)
    unknown = subject_of(weight_kg=70, age_years=None, sex=None, height_cm=None, results={})
    (blood,) = (one for one in unknown.assumed if one.name == "blood volume")
    assert "no sex or height" in blood.why and blood.value == pytest.approx(4.725)


def test_who_is_pregnant_is_a_woman() -> None:
    known, unsaid = (
        subject_of(
            weight_kg=70, age_years=30, sex=sex, height_cm=None, results={},
            conditions=frozenset({"pregnancy"}),
        )
        for sex in ("female", None)
    )  # fmt: skip
    assert unsaid == known and "pregnancy" in known.assumed[-1].why


def test_a_small_weight_is_a_childs_and_that_is_listed() -> None:
    baby = subject_of(weight_kg=4, age_years=None, sex=None, height_cm=None, results={})
    assert baby.ecf_of_water > 0.5
    assert any(one.name == "age_years" for one in baby.assumed)


def test_haematocrit_follows_from_haemoglobin() -> None:
    assert person(haemoglobin=134).haematocrit == pytest.approx(0.4)


def test_scant_urine_is_under_half_a_ml_for_each_kg_an_hour() -> None:
    assert is_scant(20, 70) and not is_scant(40, 70)
    assert is_scant(30, None) and not is_scant(2, 3)
