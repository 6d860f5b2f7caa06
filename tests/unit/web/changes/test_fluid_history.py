"""What a fluid's entry said here, from when, and by whom."""

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from app.catalogue.changes.change import FluidEntry
from app.catalogue.document import document_of
from app.review.knowledge import Past, shipped
from app.storage.database import reading, transaction
from app.storage.seed import seed
from app.web.changes.fluid_history import history_page, own_entry
from tests.changing import drafted, in_force
from tests.conftest import LOADED
from tests.unit.review.changes.conftest import DAY, HOUR, NOW


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    return engine


def ringers(**changed: str) -> FluidEntry:
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    return FluidEntry(fluid.id, {**document_of(fluid), **changed})


def past(engine: Engine) -> Past:
    with reading(engine) as session:
        return Past.of(session)


def test_entries_stand_newest_first_with_who_when_why_and_what_differed(loaded: Engine) -> None:
    in_force(loaded, ringers(note="Ours."), NOW)
    in_force(loaded, FluidEntry("lactated-ringers", None), NOW + DAY)
    drafted(loaded, ringers(note="Back again."), NOW + 2 * DAY)
    page = history_page("lactated-ringers", past(loaded), NOW + 3 * DAY)
    assert not page.is_held
    assert [one.change for one in page.said] == [2, 1, 0]
    assert [one.is_first for one in page.said] == [False, False, True]
    assert page.said[1].differences[0].after == "Ours."
    assert page.said[1].why == "agreed with the kidney unit"
    assert "A. Rowan" in page.said[1].by and page.said[2].by == "Release 0.1.0"
    assert [one.number for one in page.open] == [3]


def test_what_waits_is_no_history_yet(loaded: Engine) -> None:
    later = NOW + DAY
    in_force(loaded, ringers(note="Ours."), NOW, counts=later.isoformat())
    here = past(loaded)
    assert len(history_page("lactated-ringers", here, later - HOUR).said) == 1
    assert len(history_page("lactated-ringers", here, later).said) == 2
    assert own_entry("lactated-ringers", here, later - HOUR) is None
    own = own_entry("lactated-ringers", here, later)
    assert own is not None and own.change == 1


def test_the_pages(own_app: FastAPI, pharmacist: TestClient) -> None:
    html = pharmacist.get("/catalogue/lactated-ringers/history").text
    assert "The first entry." in html and "Release 0.1.0" in html
    assert (
        "/catalogue/lactated-ringers/history" in pharmacist.get("/catalogue/lactated-ringers").text
    )
    assert pharmacist.get("/catalogue/nonsuch/history").status_code == 404
    in_force(own_app.state.engine, ringers(note="Ours."), NOW)
    card = pharmacist.get("/catalogue/lactated-ringers").text
    assert "as it was approved here" in card and "Ours." in card
