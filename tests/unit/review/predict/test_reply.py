"""A prediction as JSON."""

import json

from app.review.predict.reply import reply_of
from tests.unit.review.predict.conftest import SALINE, Predict


def test_every_number_is_finite_and_rounded(reckon: Predict) -> None:
    text = json.dumps(reply_of(reckon(SALINE, step_min=7)), allow_nan=False)
    numbers = [part.strip(" []{},") for part in text.split() if part.strip(" []{},")[-1:].isdigit()]
    assert len(numbers) > 100
    assert all(len(number.partition(".")[2]) <= 3 for number in numbers if "." in number)


def test_each_series_has_a_number_for_each_time_within_its_range(reckon: Predict) -> None:
    reply = reply_of(reckon(SALINE))
    for band in reply["series"].values():
        assert len(band["mid"]) == len(reply["times_min"]) == 17
        rows = zip(band["low"], band["mid"], band["high"], strict=True)
        assert all(low <= mid <= high for low, mid, high in rows)


def test_what_was_understood_is_told(reckon: Predict) -> None:
    composed = {"composition": {"sodium_mmol_l": 100, "chloride_mmol_l": None}}
    reply = reply_of(reckon(SALINE, {**composed, "volume_ml": 100, "duration_min": 30}))
    first, second = reply["infusions"]
    assert first["fluid_id"] == "sodium-chloride-0.9"
    assert first["composition"] == {"sodium_mmol_l": 154, "chloride_mmol_l": 154}
    assert second["fluid_id"] is None
    assert second["composition"] == {"sodium_mmol_l": 100, "chloride_mmol_l": None}
    assert reply["pco2_mode"] == "constant"


def test_losses_and_insulin_are_told_as_reckoned(reckon: Predict) -> None:
    insulin = {"substance": "insulin", "amount": 10, "unit": "units"}
    losses = [{"kind": "urine", "ml_h": 60}, {"kind": "blood", "ml_h": 10}]
    reply = reply_of(reckon({**SALINE, "additives": [insulin]}, losses=losses))
    assert reply["infusions"][0]["insulin_units"] == 10
    urine, blood = reply["losses"]
    assert (urine["sodium_mmol_l"], urine["potassium_mmol_l"]) == (100, 40)
    assert (blood["sodium_mmol_l"], blood["potassium_mmol_l"]) == (None, None)


def test_the_same_request_gives_the_same_reply(reckon: Predict) -> None:
    assert reply_of(reckon(SALINE)) == reply_of(reckon(SALINE))
