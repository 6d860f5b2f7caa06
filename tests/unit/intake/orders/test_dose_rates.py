"""A rate written as so much of what is in the bag."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.patient.case import Case

Read = Callable[[Mapping[str, Any]], Case]


@pytest.mark.parametrize(
    ("fields", "rate"),
    [
        ({"order_text": "KCl 20 mmol in 100 mL 0.9% saline at 10 mmol/hr"}, 50),
        ({"fluid": "0.9% saline with 40 mmol KCl/L", "rate_text": "10 mmol/h"}, 250),
        ({"fluid": "0.9% saline", "volume_ml": 500, "rate_text": "10 mmol/h",
          "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}]}, 250),
        ({"order_text": "insulin 50 units in 50 mL 0.9% saline at 6 units/h"}, 6),
    ],
)  # fmt: skip
def test_a_dose_by_the_hour_gives_the_rate(read: Read, fields: dict[str, Any], rate: float) -> None:
    assert read(fields).orders[0].rate_ml_h == pytest.approx(rate)


def test_a_dose_of_what_the_bag_does_not_hold_is_asked_about(read: Read) -> None:
    (order,) = read({"fluid": "0.9% saline", "rate_text": "100 mg/h"}).orders
    assert order.rate_ml_h is None and "100 mg/h" in order.questions[0].ask


def test_a_written_rate_needs_no_dose(read: Read) -> None:
    fields = {"fluid": "0.9% saline", "rate_ml_h": 75, "rate_text": "75 mL/h = 100 mg/h"}
    (order,) = read(fields).orders
    assert order.rate_ml_h == 75 and not order.questions
