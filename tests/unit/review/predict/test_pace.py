"""Volume, duration and rate of one infusion."""

from typing import Any

import pytest

from app.intake.errors import InputError
from tests.unit.review.predict.conftest import SALINE, Ask

BAG = {"fluid": "0.9% sodium chloride"}


@pytest.mark.parametrize(
    "given",
    [
        {"volume_ml": 1000, "rate_ml_h": 250},
        {"volume_ml": 1000, "duration_h": 4},
        {"volume_ml": 1000, "duration_h": "4 h", "duration_min": 240, "rate_ml_h": "250 mL/h"},
        {"duration_min": 240, "rate_ml_h": 250},
        {"fluid": "0.9% saline 1 L", "rate_ml_h": 250},
        {"composition": {"sodium_mmol_l": 154}, "volume_ml": 1000, "rate_ml_h": 250},
    ],
)
def test_two_of_volume_duration_and_rate_give_the_third(ask: Ask, given: dict[str, Any]) -> None:
    (infusion,) = ask({**BAG, **given}).infusions
    assert infusion.load.volume_l == pytest.approx(1)
    assert infusion.load.duration_min == pytest.approx(240)


def test_rounded_figures_agree(ask: Ask) -> None:
    assert ask({**SALINE, "duration_min": 480, "duration_h": 8, "rate_ml_h": 125}).infusions
    assert ask({**SALINE, "duration_min": 720, "rate_ml_h": 83}).infusions


@pytest.mark.parametrize(
    ("given", "field", "accepted"),
    [
        ({"duration_h": 2}, "duration_h", "the same as duration_min, 60 min"),
        ({"rate_ml_h": 500}, "rate_ml_h", "1000 mL/h"),
        ({"rate_ml_h": 0}, "rate_ml_h", "above 0"),
        ({"duration_min": 0, "rate_ml_h": 500}, "rate_ml_h", "no rate"),
        ({"volume_ml": -1, "rate_ml_h": 500}, "volume_ml", "above 0"),
        ({"duration_min": None, "duration_h": -1}, "duration_h", "from 0"),
    ],
)
def test_what_disagrees_or_cannot_be_is_refused_by_its_field(
    ask: Ask, given: dict[str, Any], field: str, accepted: str
) -> None:
    with pytest.raises(InputError) as refused:
        ask({**SALINE, **given})
    assert refused.value.field == f"infusions[0].{field}"
    assert accepted in refused.value.accepted


def test_a_rate_that_differs_from_the_words_is_used_and_noted(ask: Ask) -> None:
    given = {"fluid": "0.9% saline 1 L over 8 h", "volume_ml": 1000, "rate_ml_h": 250}
    (infusion,) = ask(given).infusions
    assert infusion.load.duration_min == 240
    assert any("come to 480 min" in note.text for note in infusion.notes)
