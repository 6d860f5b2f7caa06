"""Whatever a system sends to be predicted, it gets figures or a clear refusal: never a fault."""

import json
from random import Random
from typing import Any, Final

import pytest

from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.predict.as_text import lines_of
from app.review.predict.predict import predict
from app.review.predict.reply import reply_of
from tests.conftest import NOW
from tests.contract.interfaces import PREDICT_REQUEST, SERIES
from tests.property.test_any_input import spoilt

KNOWN = Knowledge.from_seed()
TRIES: Final = 60
GAS = [
    {"name": "ph", "value": 7.31},
    {"name": "pco2", "value": 41, "unit": "mmHg"},
    {"name": "albumin", "value": 28, "unit": "g/L"},
    {"name": "haematocrit", "value": 31, "unit": "%"},
]
ALBUMIN = {"fluid": "20% albumin", "volume_ml": 100, "duration_min": 60}
COLLOID = {"sodium_mmol_l": 154, "chloride_mmol_l": 120, "gelatin_g_l": 40, "glucose_g_l": 5}
REQUESTS: Final[tuple[dict[str, Any], ...]] = (
    PREDICT_REQUEST,
    {
        "patient": {"weight_kg": 3.4, "age_years": 0.02, "observations": GAS},
        "infusions": [ALBUMIN, {"composition": COLLOID, "volume_ml": 60, "duration_min": 30}],
        "losses": [{"kind": "blood", "ml_h": 20}],
        "horizon_min": 120,
        "step_min": 30,
        "pco2_mode": "responding",
    },
)


@pytest.mark.parametrize("seed", range(10))
def test_a_spoilt_request_is_predicted_or_refused_by_field(seed: int) -> None:
    chance = Random(seed)
    made = 0
    for _ in range(TRIES):
        request = spoilt(chance.choice(REQUESTS), chance)
        try:
            prediction = predict(
                request, catalogue=KNOWN.catalogue, vocabulary=KNOWN.vocabulary, now=NOW
            )
        except (InputError, InputErrors) as refused:
            assert all(e.field and e.accepted for e in getattr(refused, "errors", (refused,)))
            continue
        made += 1
        reply = reply_of(prediction)
        json.dumps(reply, allow_nan=False)
        assert set(reply["series"]) == SERIES
        assert len(reply["times_min"]) <= 500
        assert all(map(str.isprintable, list(lines_of(prediction))[:1]))
    assert made > TRIES // 8
