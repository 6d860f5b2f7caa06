"""The lines page of demo patients."""

from collections.abc import Callable

import pytest
from fastapi import FastAPI

from app.patient.lumen_told import LumenTold
from app.review.lines.bedside.planned import BedsidePlan, plan_bedside
from app.review.lines.bedside.problem import Means
from app.review.workflow import Bedside, pair_book, review_patient
from app.storage.database import reading
from app.storage.stock import read_stock
from app.web.lines.view import LinesPage, lines_page

BedOf = Callable[[str], Bedside]
PageOf = Callable[..., LinesPage]
PlanOf = Callable[..., BedsidePlan]


@pytest.fixture
def bed_of(app: FastAPI) -> BedOf:
    """bed_of("25"): a reviewed bed of the demo unit."""

    def made(number: str) -> Bedside:
        with reading(app.state.engine) as session:
            bed = review_patient(session, app.state.knowledge, f"bed-{number}")
        assert bed is not None
        return bed

    return made


@pytest.fixture
def means(app: FastAPI) -> Means:
    """What the demo unit's plans are made with."""
    knowledge = app.state.knowledge
    with reading(app.state.engine) as session:
        book, stock = pair_book(session, knowledge), read_stock(session)
    return Means(knowledge.catalogue, knowledge.vehicles, knowledge.ruleset, book, stock)


@pytest.fixture
def page_of(bed_of: BedOf, means: Means) -> PageOf:
    """page_of("25", told, …): the page with what was told of lumens."""

    def made(number: str, *told: LumenTold) -> LinesPage:
        return lines_page(bed_of(number), means, {one.lumen: one for one in told})

    return made


@pytest.fixture
def plan_of(bed_of: BedOf, means: Means) -> PlanOf:
    """plan_of("25", "left forearm", …): the plan with these lumens failed."""

    def made(number: str, *failed: str) -> BedsidePlan:
        return plan_bedside(bed_of(number).review.case, means, frozenset(failed))

    return made
