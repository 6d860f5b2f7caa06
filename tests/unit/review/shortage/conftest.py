"""A small unit made of requests, and what a rehearsal is made with."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counts import NOTHING_COUNTED, BagCount, Counts
from app.catalogue.stock.stock import NOTHING_TOLD, State, Stock, StockState
from app.patient.case import Case
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.shortage.candidates import Means
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Rehearsal, Unit, rehearse
from app.review.workflow import review_request
from tests.conftest import NOW

ADULT: Mapping[str, Any] = {"age_years": 50, "sex": "male", "weight_kg": 70}
SALINE = "sodium-chloride-0.9"
RINGERS = "lactated-ringers"
Reviewed = Callable[..., Review]
Losing = Callable[..., Loss]
MeansOf = Callable[..., Means]


def order(fluid: str = "0.9% sodium chloride", **more: object) -> dict[str, Any]:
    """A litre at 100 mL/h, unless told otherwise."""
    return {"id": "o1", "fluid": fluid, "volume_ml": 1000, "rate_ml_h": 100, **more}


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """Everything as shipped."""
    return Knowledge.from_seed()


@pytest.fixture(scope="session")
def reviewed(knowledge: Knowledge) -> Reviewed:
    """reviewed(order, …, patient={…}, co=[…]): one patient with these orders."""

    def made(
        *orders: dict[str, Any], patient: Mapping[str, Any] = ADULT, co: Sequence[object] = ()
    ) -> Review:
        request = {
            "patient": {**ADULT, **patient},
            "orders": [{"id": f"o{n}", **one} | {"id": f"o{n}"} for n, one in enumerate(orders, 1)],
            "co_infusions": list(co),
        }
        return review_request(request, knowledge, now=NOW)

    return made


@pytest.fixture
def case_of(reviewed: Reviewed) -> Callable[..., Case]:
    """The case of such a patient."""
    return lambda *orders, **more: reviewed(*orders, **more).case


@pytest.fixture
def means(knowledge: Knowledge) -> MeansOf:
    """means(out=[ids], counts=Counts, told={id: state}): fluids, rules and stock."""

    def made(
        out: tuple[str, ...] = (),
        counts: Counts = NOTHING_COUNTED,
        told: Mapping[str, State] = MappingProxyType({}),
    ) -> Means:
        states = {key: StockState("out", NOW, "lorry late") for key in out}
        states |= {key: StockState(state, NOW, "why") for key, state in told.items()}
        stock = Stock(states) if states else NOTHING_TOLD
        return Means(knowledge.catalogue, knowledge.ruleset, stock, counts)

    return made


@pytest.fixture
def losing() -> Losing:
    """losing("ID", "ID@SIZE", share=…, …): a loss from now on."""

    def made(*keys: str, starts: datetime = NOW, **more: bool | float) -> Loss:
        sizes: dict[str, frozenset[int]] = {}
        for key in keys:
            fluid_id, _, size = key.partition("@")
            one = frozenset({int(size)}) if size else frozenset()
            sizes[fluid_id] = sizes.get(fluid_id, frozenset()) | one
        return Loss(sizes, starts, **more)  # type: ignore[arg-type]

    return made


@pytest.fixture
def played(knowledge: Knowledge, means: MeansOf) -> Callable[..., Rehearsal[str]]:
    """played(loss, review, …, means=…): the loss on patients called "a", "b", …"""

    def made(loss: Loss, *reviews: Review, using: Means | None = None) -> Rehearsal[str]:
        with_ = using or means()
        unit = Unit.of(zip("abcdefgh", reviews, strict=False), with_, knowledge.vehicles)
        return rehearse(unit, loss, with_)

    return made


def fluid_of(catalogue: Catalogue, fluid_id: str) -> Fluid:
    """A fluid that must be there."""
    fluid = catalogue.get(fluid_id)
    assert fluid is not None, fluid_id
    return fluid


def counted(*counts: tuple[str, int, int]) -> Counts:
    """Bags on the ward: (fluid id, size, bags)."""
    return Counts.of(BagCount(key, size, "ward", bags, NOW, "J.B.") for key, size, bags in counts)
