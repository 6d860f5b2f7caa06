"""A predict request read, or reckoned, with everything we know, in one call."""

from collections.abc import Callable
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.vocabulary import Vocabulary
from app.review.predict.asked import Asked, read_asked
from app.review.predict.predict import Prediction, predict
from tests.conftest import NOW

Ask = Callable[..., Asked]
Predict = Callable[..., Prediction]
SALINE = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "duration_min": 60}
ADULT = {"age_years": 61, "sex": "female", "weight_kg": 70, "height_cm": 165}


@pytest.fixture(scope="session")
def ask(catalogue: Catalogue, vocabulary: Vocabulary) -> Ask:
    """Read a request: infusions in turn, the request's other fields by name."""

    def read(*infusions: dict[str, Any], **fields: object) -> Asked:
        request = {"patient": ADULT, "infusions": list(infusions), **fields}
        return read_asked(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return read


@pytest.fixture(scope="session")
def reckon(catalogue: Catalogue, vocabulary: Vocabulary) -> Predict:
    """As ask(), and predicted."""

    def made(*infusions: dict[str, Any], **fields: object) -> Prediction:
        request = {"patient": ADULT, "infusions": list(infusions), **fields}
        return predict(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)

    return made
