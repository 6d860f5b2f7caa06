"""An order's bag: its volume, and what is put into it."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.intake.fluids import FluidReading
from app.intake.orders.bag import bag_alone, stated_ml, with_named_volume
from app.intake.pace.heard import Body
from app.intake.rates import Flow
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case

Read = Callable[[Mapping[str, Any]], Case]
ADULT = Body(70.0)


def test_what_is_drawn_up_is_none_of_the_bags_volume(vocabulary: Vocabulary) -> None:
    fields = {"order_text": "KCl 15% 10 mL in 500 mL saline over 4 h"}
    said = bag_alone(Reader(fields, "o", Problems()), vocabulary).text("order_text")
    assert said is not None and "500 ml" in said and "10 ml" not in said


@pytest.mark.parametrize(
    ("fields", "stated"),
    [({"volume_ml": 500}, 1000), ({"rate_text": "1 L over 8 h"}, 1000), ({}, None)],
)
def test_a_volume_that_nobody_wrote_is_not_stated(
    fields: dict[str, Any], stated: float | None
) -> None:
    reader = Reader(fields, "o", Problems())
    assert stated_ml(reader, Flow(125, 1000, 8), "", ADULT) == stated


def test_the_name_gives_the_volume_where_nothing_else_does() -> None:
    flow = with_named_volume(Flow(duration_h=4), FluidReading(volume_ml=500), "")
    assert (flow.volume_ml, flow.rate_ml_h) == (500, 125)
    assert with_named_volume(Flow(), FluidReading(), "kcl 20 meq/100 ml ns").volume_ml == 100
    assert with_named_volume(Flow(volume_ml=250), FluidReading(volume_ml=500), "").volume_ml == 250


def test_an_additive_named_and_listed_is_counted_once(read: Read) -> None:
    listed = [{"substance": "potassium chloride", "amount": 30, "unit": "mmol"}]
    fields = {"fluid": "Hartmann's with 30 mmol KCl", "volume_ml": 1000, "additives": listed}
    (order,) = read(fields).orders
    assert len(order.additives) == 1 and "counted once" in order.questions[0].ask
