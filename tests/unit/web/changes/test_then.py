"""What counted on a certain night can be shown."""

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.cautions.registry import RULES
from tests.changing import LIMIT, RULE, in_force
from tests.unit.review.changes.conftest import DAY, NOW

ACTIVE = sum(rule.status == "active" for rule in RULES)


@pytest.fixture
def changed(own_app: FastAPI) -> FastAPI:
    engine = own_app.state.engine
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    in_force(engine, RuleSwitch("k-rate", on=False), NOW + DAY)
    in_force(engine, FluidEntry("dextrose-5", None), NOW + 2 * DAY)
    return own_app


def at(client: TestClient, days: float) -> str:
    return client.get("/changes/then", params={"at": (NOW + days * DAY).isoformat()}).text


def test_each_night_shows_what_counted_then_and_no_more(
    changed: FastAPI, pharmacist: TestClient
) -> None:
    before, first, second, third = (at(pharmacist, days) for days in (-1, 0.5, 1.5, 2.5))
    assert "every limit as its release had it" in before and "none was switched off" in before
    assert "6.2 mmol/L" in first and "none was switched off" in first
    assert "was switched off by" in second and "every entry as its release" in second
    assert "dextrose-5: taken out" in third
    assert f"{ACTIVE} ran" in before and f"{ACTIVE - 1} ran" in second
    assert "54, catalogue" in third and "55, catalogue" in second


def test_before_anything_was_loaded_there_was_nothing(pharmacist: TestClient) -> None:
    html = pharmacist.get("/changes/then?at=2020-01-01T00:00").text
    assert "0, catalogue" in html


@pytest.mark.parametrize("written", ["yesterday", "2099-01-01T00:00", "0001-01-01T00:00:00+14:00"])
def test_what_is_no_moment_or_lies_ahead_is_refused(pharmacist: TestClient, written: str) -> None:
    answer = pharmacist.get("/changes/then", params={"at": written})
    assert answer.status_code == 422
    assert "a moment up to now" in answer.text and written in answer.text


def test_no_moment_is_now(changed: FastAPI, pharmacist: TestClient) -> None:
    assert "6.2 mmol/L" in pharmacist.get("/changes/then").text
