"""The page on which a change is run on past orders."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.review.replay.running import Plan
from app.storage.database import reading, transaction
from app.storage.past.past import purge_past
from app.storage.replays import jobs
from app.web.replay import page as module
from tests.unit.web.conftest import HTMX
from tests.unit.web.replay.conftest import now, run_change


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[Plan]:
    """Runs asked for on the page, which start no process here."""
    plans: list[Plan] = []
    monkeypatch.setattr(module, "start_run", lambda plan, _clock: plans.append(plan))
    return plans


def path(number: int, more: str = "") -> str:
    return f"/changes/{number}/replay{more}"


def test_a_change_not_run_yet_says_that_nothing_is_known(ward: TestClient, change_id: int) -> None:
    text = ward.get(path(change_id)).text
    assert "Not run yet" in text
    assert "does not mean that nothing would change" in text
    assert "Run it on past orders" in text
    assert "300 past requests with" in text


def test_it_is_started_once_and_waits_for_its_process(
    ward: TestClient, change_id: int, started: list[Plan]
) -> None:
    answer = ward.post(path(change_id), follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, path(change_id))
    assert len(started) == 1
    text = ward.get(path(change_id)).text
    assert 'role="progressbar"' in text
    assert 'aria-valuenow="0"' in text
    assert "every 1s" in text
    again = ward.post(path(change_id))
    assert again.status_code == 409
    assert "being run already" in again.text
    assert len(started) == 1


def test_how_far_it_is_is_told_and_a_screen_reader_hears_each_quarter(
    ward: TestClient, own_app: FastAPI, change_id: int, started: list[Plan]
) -> None:
    ward.post(path(change_id))
    with transaction(own_app.state.engine) as session:
        jobs.begin(session, started[0].run_id, now(), 200, {})
        jobs.beat(session, started[0].run_id, now(), 60)
    part = ward.get(path(change_id, "/progress"), headers=HTMX).text
    assert 'aria-valuenow="30"' in part
    assert "60 of 200 past requests" in part
    assert 'hx-swap-oob="innerHTML">Running, 25%' in part
    step = re.search(r"progress\?step=([\w-]+)", part)
    assert step is not None
    again = ward.get(path(change_id, f"/progress?step={step[1]}"), headers=HTMX).text
    assert "hx-swap-oob" not in again


def test_the_page_itself_takes_in_what_came_out(ward: TestClient, over: int) -> None:
    answer = ward.get(path(over, "/progress"), headers=HTMX)
    assert answer.headers["HX-Retarget"] == "#replay"
    assert "What came out" in answer.text
    assert ">Finished</p>" in answer.text
    assert "every 1s" not in answer.text


def test_it_is_stopped_when_asked(
    ward: TestClient, own_app: FastAPI, change_id: int, started: list[Plan]
) -> None:
    ward.post(path(change_id))
    answer = ward.post(path(change_id, "/stop"), follow_redirects=False)
    assert answer.status_code == 303
    with reading(own_app.state.engine) as session:
        run = jobs.read_run(session, started[0].run_id, now())
    assert run is not None
    assert run.stop_asked
    assert "Stopping" in ward.get(path(change_id)).text


def test_a_run_whose_process_is_gone_is_told_and_may_be_run_again(
    ward: TestClient, own_app: FastAPI, change_id: int
) -> None:
    long_ago = now() - timedelta(hours=1)
    with transaction(own_app.state.engine) as session:
        jobs.ask(session, jobs.Asked(long_ago, "B. Birch", "a2", "s", change_id))
    text = ward.get(path(change_id)).text
    assert "Interrupted" in text
    assert "Run it on past orders" in text


def test_what_came_out_leads_to_each_past_order(ward: TestClient, over: int) -> None:
    text = ward.get(path(over)).text
    assert "Daily water above maintenance need" in text
    assert "per 100 orders" in text
    links = re.findall(rf'href="({path(over)}/past/\d+)"', text)
    assert links
    page = ward.get(links[0])
    assert page.status_code == 200
    assert "With the change" in page.text


def test_more_than_the_cap_is_told_aloud(own_app: FastAPI, ward: TestClient, over: int) -> None:
    assert "Over the cap" not in ward.get(path(over)).text
    run_change(own_app.state.engine, over, cap=0.0)
    text = ward.get(path(over)).text
    assert "Over the cap" in text
    assert "Approval needs a written reason" in text


def test_without_past_orders_nothing_is_run(
    ward: TestClient, own_app: FastAPI, change_id: int, started: list[Plan]
) -> None:
    with transaction(own_app.state.engine) as session:
        purge_past(session, datetime(2040, 1, 1, tzinfo=UTC))
    answer = ward.post(path(change_id))
    assert answer.status_code == 409
    assert "no past orders" in answer.text
    assert started == []


@pytest.mark.parametrize("number", [0, 99, 2**31, 2**70])
def test_there_is_no_replay_of_a_change_nobody_drafted(ward: TestClient, number: int) -> None:
    assert ward.get(path(number)).status_code == 404
    assert ward.post(path(number)).status_code == 404
    assert ward.post(path(number, "/stop")).status_code == 404
