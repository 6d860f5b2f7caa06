"""What an address asks, played on the unit as it is now; nothing is changed by it."""

from typing import Any

import pytest
from fastapi import FastAPI, Request
from sqlalchemy import func, select

from app.storage.all_tables import Base
from app.storage.database import reading
from app.web.shortage.played import Played, page_of, play

SALINE = {"lost": ["sodium-chloride-0.9"]}


def request_to(app: FastAPI) -> Request:
    return Request({"type": "http", "app": app, "headers": [], "state": {}})


def played(app: FastAPI, given: dict[str, list[str]]) -> Played:
    with reading(app.state.engine) as session:
        return play(request_to(app), session, given)


def rows(app: FastAPI) -> dict[str, Any]:
    with reading(app.state.engine) as session:
        return {
            name: session.scalar(select(func.count()).select_from(table))
            for name, table in Base.metadata.tables.items()
        }


def test_a_rehearsal_writes_nothing(app: FastAPI) -> None:
    before = rows(app)
    assert played(app, SALINE).rehearsal is not None
    assert rows(app) == before


def test_stock_and_counts_of_the_unit_are_used(app: FastAPI) -> None:
    made = played(app, SALINE)
    assert made.counts.bags("sodium-chloride-0.9", 1000) == 54
    assert not made.shelf.stock.may_offer("multiple-electrolytes-type-1-ph-7.4")
    assert made.rehearsal is not None
    offered = {tried.fluid.id for one in made.rehearsal.orders for tried in one.offers.offered}
    assert "multiple-electrolytes-type-1-ph-7.4" not in offered


@pytest.mark.parametrize("given", [{}, {"lost": ["nope"]}, {**SALINE, "share": ["0"]}])
def test_what_is_not_accepted_is_not_played(app: FastAPI, given: dict[str, list[str]]) -> None:
    made = played(app, given)
    assert made.rehearsal is None
    assert made.result is None


def test_whoever_is_not_signed_in_sees_no_order_and_keeps_nothing(app: FastAPI) -> None:
    view = page_of(request_to(app), played(app, SALINE))
    assert not view.sees
    assert not view.keeps
    assert view.by == ""
    assert view.result is not None
    assert view.result.lost, "sums are shown"
    assert view.result.orders == view.result.drugs == view.result.over == ()
