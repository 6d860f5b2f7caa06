"""The page of burden and precision."""

import csv

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.review.replay.running import Plan
from app.security.acts import Role
from app.storage.database import transaction
from app.storage.past.load import load_invented
from app.web.burden import page as module
from tests.people import Clients
from tests.unit.web.burden.conftest import Count
from tests.unit.web.conftest import HTMX
from tests.unit.web.replay.conftest import UNTIL


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[Plan]:
    """Counts asked for on the page, which start no process here."""
    plans: list[Plan] = []
    monkeypatch.setattr(module, "start_run", lambda plan, _clock: plans.append(plan))
    return plans


def test_before_anything_is_counted_nothing_is_claimed(ward: TestClient) -> None:
    text = ward.get("/burden").text
    assert "Not counted yet" in text
    assert "nothing is known of how many help" in text
    assert "There are no past orders" in text
    assert ward.post("/burden").status_code == 409


def test_a_count_is_started_once_over_thirty_days_of_the_units_clock(
    ward: TestClient, own_app: FastAPI, few: object, started: list[Plan]
) -> None:
    with transaction(own_app.state.engine) as session:
        load_invented(session, UNTIL, few)  # type: ignore[arg-type]
    answer = ward.post("/burden", follow_redirects=False)
    assert answer.status_code == 303
    assert started[0].since is not None
    assert (UNTIL - started[0].since).days == 30
    assert ward.post("/burden").status_code == 409
    assert 'role="progressbar"' in ward.get("/burden/progress", headers=HTMX).text
    ward.post("/burden/stop")
    assert "Stopping" in ward.get("/burden").text


def test_what_was_counted_is_told_by_rule_place_stretch_and_day(
    ward: TestClient, count: Count
) -> None:
    count()
    text = ward.get("/burden").text
    for words in ("findings at warning or above for each 100 orders", "By rule", "By place",
                  "Adult ward", "Day, 07:00 to 19:00", "Over time"):  # fmt: skip
        assert words in text
    part = ward.get("/burden/progress", headers=HTMX)
    assert part.headers["HX-Retarget"] == "#counted"


def test_the_figures_as_a_file_add_up_to_the_page(ward: TestClient, count: Count) -> None:
    count()
    answer = ward.get("/burden/figures.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(answer.text.splitlines()))
    loud = sum(int(r["findings"]) for r in rows if r["level"] in ("critical", "warning"))
    assert f"{loud:,} findings on" in ward.get("/burden").text


def test_an_empty_file_has_its_header(ward: TestClient) -> None:
    assert ward.get("/burden/figures.csv").text.startswith("day,setting")
    assert ward.get("/burden/marks.csv").text.startswith("sample,number")


def test_an_educator_reads_and_draws_nothing(
    own_app: FastAPI, clients: Clients, count: Count
) -> None:
    count()
    educator = clients(own_app, Role.EDUCATOR)
    text = educator.get("/burden").text
    assert "Draw a sample" not in text
    assert educator.post("/burden/samples").status_code == 403
