"""A request predicted."""

import pytest

from app.intake.errors import InputError
from tests.unit.review.predict.conftest import ADULT, SALINE, Predict


def test_saline_raises_chloride_and_lowers_bicarbonate(reckon: Predict) -> None:
    series = reckon({**SALINE, "volume_ml": 2000}).course.series
    chloride, bicarbonate = series["chloride_mmol_l"].mid, series["bicarbonate_mmol_l"].mid
    assert chloride[-1] > chloride[0] + 2
    assert bicarbonate[-1] < bicarbonate[0]


def test_nothing_given_and_urine_told_as_none_changes_nothing(reckon: Predict) -> None:
    course = reckon(losses=[{"kind": "urine", "ml_h": 0}]).course
    for band in course.series.values():
        assert band.mid[-1] == pytest.approx(band.mid[0], rel=1e-3, abs=1e-3)


def test_the_patients_own_results_are_the_start_and_the_rest_is_listed(reckon: Predict) -> None:
    result = {"name": "sodium", "value": 118, "unit": "mmol/L"}
    prediction = reckon(SALINE, patient={**ADULT, "observations": [result]})
    assert prediction.course.series["sodium_mmol_l"].mid[0] == pytest.approx(118)
    names = [one.name for one in prediction.assumed]
    assert "sodium" not in names
    assert {"potassium", "horizon_min"} <= set(names)


def test_a_gas_that_contradicts_itself_is_refused_with_its_field(reckon: Predict) -> None:
    gas = [
        {"name": "ph", "value": 7.1},
        {"name": "pco2", "value": 40, "unit": "mmHg"},
        {"name": "bicarbonate", "value": 30, "unit": "mmol/L"},
    ]
    with pytest.raises(InputError) as refused:
        reckon(SALINE, patient={**ADULT, "observations": gas})
    assert refused.value.field.startswith("patient.observations")


def test_a_child_without_a_weight_is_refused_with_the_field(reckon: Predict) -> None:
    with pytest.raises(InputError) as refused:
        reckon(SALINE, patient={"age_years": 3})
    assert refused.value.field == "patient.weight_kg"


@pytest.mark.parametrize("setting", ["paediatric", "neonate"])
def test_a_child_by_its_ward_without_a_weight_is_refused_with_the_field(
    reckon: Predict, setting: str
) -> None:
    with pytest.raises(InputError) as refused:
        reckon(SALINE, patient={}, setting=setting)
    assert refused.value.field == "patient.weight_kg"


def test_a_newborn_by_its_ward_has_a_newborns_make(reckon: Predict) -> None:
    baby = reckon(SALINE, patient={"weight_kg": 3}, setting="neonate").subject
    assert baby.ecf_of_water > 0.5


def test_a_urine_of_water_raises_sodium_and_one_of_salt_does_not(reckon: Predict) -> None:
    changes = []
    for sodium in (10, 200):
        loss = {"kind": "urine", "ml_h": 300, "sodium_mmol_l": sodium, "potassium_mmol_l": 10}
        sodium_mid = reckon(losses=[loss]).course.series["sodium_mmol_l"].mid
        changes.append(sodium_mid[-1] - sodium_mid[0])
    assert changes[0] > 1 and changes[1] < -0.3


def test_losses_that_nobody_survives_are_refused_with_their_field(reckon: Predict) -> None:
    drained = [{"kind": "insensible", "ml_h": 5000}, {"kind": "gastric", "ml_h": 1000}]
    with pytest.raises(InputError) as refused:
        reckon(losses=drained, horizon_min=1440)
    assert refused.value.field == "losses"
    assert reckon(SALINE, losses=[{"kind": "blood", "ml_h": 500}]).course


def test_chloride_that_no_anions_could_balance_is_refused_with_its_field(reckon: Predict) -> None:
    results = [
        {"name": "sodium", "value": 120, "unit": "mmol/L"},
        {"name": "chloride", "value": 128, "unit": "mmol/L"},
        {"name": "bicarbonate", "value": 24, "unit": "mmol/L"},
    ]
    with pytest.raises(InputError) as refused:
        reckon(SALINE, patient={**ADULT, "observations": results})
    assert refused.value.field.startswith("patient.observations")
    assert "chloride 128" in str(refused.value.value)


def test_more_than_a_body_can_take_is_refused_and_no_figure_made_up(reckon: Predict) -> None:
    strong = {"composition": {"chloride_mmol_l": 6000}, "volume_ml": 50_000, "duration_min": 1}
    with pytest.raises(InputError) as refused:
        reckon(*[strong] * 50, patient={"age_years": 0.01, "weight_kg": 1}, horizon_min=10_080)
    assert refused.value.field == "infusions"
    assert "2500 L given" in str(refused.value.value)
