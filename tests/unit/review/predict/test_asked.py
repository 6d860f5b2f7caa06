"""How a predict request is read: what was not said is assumed aloud, what cannot be is refused."""

import pytest

from app.intake.errors import InputError, InputErrors
from tests.unit.review.predict.conftest import ADULT, SALINE, Ask


def test_four_hours_in_quarters_unless_said_and_the_assumption_is_listed(ask: Ask) -> None:
    asked = ask(SALINE)
    assert (asked.horizon_min, asked.step_min) == (240, 15)
    assert [one.name for one in asked.assumed] == ["horizon_min", "step_min"]
    assert not asked.responding_pco2


def test_what_is_said_is_taken_and_nothing_assumed(ask: Ask) -> None:
    asked = ask(SALINE, horizon_min=60, step_min=5, pco2_mode="responding")
    assert (asked.horizon_min, asked.step_min, asked.responding_pco2) == (60, 5, True)
    assert not asked.assumed
    assert not asked.notes


def test_a_week_is_shown_in_at_most_500_points_unless_more_are_asked_for(ask: Ask) -> None:
    asked = ask(SALINE, horizon_min=10_080)
    assert asked.horizon_min / asked.step_min <= 499
    assert ask(SALINE, horizon_min=10_080, step_min=7).step_min == 7
    assert ask(SALINE, horizon_min=1440, step_min=1).step_min == 1


@pytest.mark.parametrize("horizon_min", [10, 1, 0.2])
def test_a_step_longer_than_the_horizon_leads_to_it(ask: Ask, horizon_min: float) -> None:
    asked = ask(SALINE, horizon_min=horizon_min, step_min=15)
    assert (asked.horizon_min, asked.step_min) == (horizon_min, horizon_min)


def test_the_finest_step_that_is_told_is_accepted(ask: Ask) -> None:
    with pytest.raises(InputError) as refused:
        ask(SALINE, horizon_min=10_080, step_min=1)
    told = float(refused.value.accepted.split()[2])
    assert ask(SALINE, horizon_min=10_080, step_min=told).step_min == told


def test_a_short_look_has_a_short_step(ask: Ask) -> None:
    assert ask(SALINE, horizon_min=5).step_min == 5


def test_the_patients_urine_goes_on_unless_the_losses_say_otherwise(ask: Ask) -> None:
    patient = {**ADULT, "urine_ml_h": 20}
    (loss,) = ask(SALINE, patient=patient).losses
    assert (loss.kind, loss.ml_h) == ("urine", 20)
    (said,) = ask(SALINE, patient=patient, losses=[{"kind": "urine", "ml_h": 50}]).losses
    assert said.ml_h == 50


def test_insulin_of_the_medications_runs_beside_the_infusions(ask: Ask) -> None:
    told = {**ADULT, "medications": ["insulin glargine 20 units", "insulin 6 units/h IV"]}
    asked = ask(SALINE, patient=told)
    assert [load.insulin_units for load in asked.loads] == [0, 24]
    assert "insulin" in [one.name for one in asked.assumed]
    texts = {note.written: note.text for note in asked.notes}
    assert "soluble" in texts["insulin glargine 20 units"]
    assert "6 units/h" in texts["insulin 6 units/h IV"]


def test_insulin_that_was_stopped_does_not_run(ask: Ask) -> None:
    told = {**ADULT, "medications": ["insulin 6 units/h stopped this morning"]}
    assert not ask(SALINE, patient=told).beside


def test_a_field_that_nothing_reads_is_noted(ask: Ask) -> None:
    (note,) = ask(SALINE, orders=[]).notes
    assert note.field == "orders"


@pytest.mark.parametrize(
    ("fields", "field", "accepted"),
    [
        ({"horizon_min": 10_081}, "horizon_min", "up to 10080 min"),
        ({"horizon_min": 0}, "horizon_min", "above 0"),
        ({"horizon_min": 1600, "step_min": 1}, "step_min", "at most 1500 points"),
        ({"horizon_min": 60, "step_min": 0}, "step_min", "above 0"),
        ({"step_min": True}, "step_min", "a number"),
        ({"pco2_mode": "normal"}, "pco2_mode", "constant or responding"),
        ({"losses": [{"kind": "sweat", "ml_h": 5}]}, "losses[0].kind", "insensible"),
        ({"losses": [{"kind": "urine"}]}, "losses[0].ml_h", "a number"),
        ({"losses": [{"ml_h": 5}]}, "losses[0].kind", "urine or gastric"),
        ({"losses": {}}, "losses", "a list"),
        ({"losses": [{"kind": "urine", "ml_h": 5, "sodium_mmol_l": 900}]},
         "losses[0].sodium_mmol_l", "up to 300 mmol/L"),
        ({"losses": [{"kind": "urine", "ml_h": 5, "potassium_mmol_l": -1}]},
         "losses[0].potassium_mmol_l", "from 0"),
        ({"infusions": [SALINE] * 101}, "infusions", "at most 100"),
        ({"patient": 5}, "patient", "named fields"),
        ({"patient": {"weight_kg": -1}}, "patient.weight_kg", "kg"),
        ({"now": "today"}, "now", "a date and time"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_field(
    ask: Ask, fields: dict[str, object], field: str, accepted: str
) -> None:
    with pytest.raises(InputError) as refused:
        ask(**fields)
    assert refused.value.field == field
    assert accepted in refused.value.accepted


def test_everything_wrong_is_told_at_once(ask: Ask) -> None:
    with pytest.raises(InputErrors) as refused:
        ask({**SALINE, "volume_ml": -1}, patient={"weight_kg": -1}, step_min="fine")
    assert [error.field for error in refused.value.errors] == [
        "patient.weight_kg", "infusions[0].volume_ml", "step_min",
    ]  # fmt: skip
