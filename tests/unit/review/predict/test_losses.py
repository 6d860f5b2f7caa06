"""What is lost, with what salt, and how that is known."""

from typing import Any

import pytest

from app.intake.errors import InputError
from app.physiology.course.loads import Loss
from tests.unit.review.predict.conftest import ADULT, SALINE, Ask

URINE = {"kind": "urine", "ml_h": 100}


def with_urine_results(*hours_ago: int, name: str = "urine sodium") -> dict[str, Any]:
    taken = {2: "2031-03-04T05:00:00Z", 48: "2031-03-02T07:00:00Z"}
    results = [
        {"name": name, "value": 22, "unit": "mmol/L", "taken_at": taken[h]} for h in hours_ago
    ]
    return {**ADULT, "observations": results}


def test_salt_that_is_told_is_taken_and_what_is_not_is_usual_and_listed(ask: Ask) -> None:
    asked = ask(SALINE, losses=[{**URINE, "sodium_mmol_l": "30 mmol/L"}])
    assert asked.losses == (Loss("urine", 100, 30, 40),)
    (listed,) = [one for one in asked.assumed if one.name.startswith("urine")]
    assert (listed.name, listed.value) == ("urine potassium", 40)


@pytest.mark.parametrize("name", ["urine sodium", "urine potassium"])
def test_the_patients_own_urine_says_what_is_in_it(ask: Ask, name: str) -> None:
    asked = ask(SALINE, patient=with_urine_results(2, name=name), losses=[URINE])
    listed = {one.name: (one.value, one.why) for one in asked.assumed}
    assert listed[name] == (22, "the patient's own urine, 2 h old")
    assert 22 in (asked.losses[0].sodium_mmol_l, asked.losses[0].potassium_mmol_l)


def test_figures_told_win_over_the_patients_results(ask: Ask) -> None:
    told = {**URINE, "sodium_mmol_l": 80, "potassium_mmol_l": 0}
    asked = ask(SALINE, patient=with_urine_results(2), losses=[told])
    assert asked.losses == (Loss("urine", 100, 80, 0),)


def test_a_stale_urine_sodium_is_not_used_and_that_is_said(ask: Ask) -> None:
    asked = ask(SALINE, patient=with_urine_results(48), losses=[URINE])
    assert asked.losses == (Loss("urine", 100, 100, 40),)
    assert any("Not used: this urine sodium is 2 days old" in note.text for note in asked.notes)


def test_a_urine_sodium_without_a_volume_is_not_used_and_that_is_said(ask: Ask) -> None:
    asked = ask(SALINE, patient=with_urine_results(2))
    assert not asked.losses
    assert any("without a urine volume" in note.text for note in asked.notes)


def test_scant_urine_has_the_patients_own_salt(ask: Ask) -> None:
    asked = ask(SALINE, patient={**with_urine_results(2), "urine_ml_h": 20})
    assert asked.losses == (Loss("urine", 20, 22, 40),)


def test_blood_takes_no_figures_and_that_is_said(ask: Ask) -> None:
    asked = ask(SALINE, losses=[{"kind": "blood", "ml_h": 50, "sodium_mmol_l": 10}])
    assert asked.losses == (Loss("blood", 50),)
    assert any(note.field == "losses[0].sodium_mmol_l" for note in asked.notes)


def test_no_urine_needs_no_salt(ask: Ask) -> None:
    assert ask(SALINE, losses=[{"kind": "urine", "ml_h": 0}]).losses == (Loss("urine", 0),)


def test_a_loss_may_begin_and_end(ask: Ask) -> None:
    told = {"kind": "blood", "ml_h": 6000, "starts_min": 30, "duration_min": "5 min"}
    (loss,) = ask(SALINE, losses=[told]).losses
    assert (loss.starts_min, loss.duration_min) == (30, 5)
    (endless,) = ask(SALINE, losses=[{"kind": "gastric", "ml_h": 50}]).losses
    assert endless.starts_min == 0 and endless.litres_between(0, 600) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("more", "field"), [({"duration_min": 0}, "duration_min"), ({"starts_min": -1}, "starts_min"),
                        ({"ml_h": 10_001}, "ml_h")],
)  # fmt: skip
def test_a_loss_that_cannot_be_is_refused_by_its_field(
    ask: Ask, more: dict[str, float], field: str
) -> None:
    with pytest.raises(InputError) as refused:
        ask(SALINE, losses=[{"kind": "blood", "ml_h": 100, **more}])
    assert refused.value.field == f"losses[0].{field}"
