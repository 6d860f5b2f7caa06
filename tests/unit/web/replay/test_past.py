"""One past order with both answers."""

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import select

from app.review.knowledge import Knowledge
from app.review.replay.asked import Two
from app.storage.database import reading
from app.storage.past.tables import PastOrderRow
from app.web.replay.past import past_page
from tests.unit.review.replay.conftest import WithLimit, known, water, with_limit

__all__ = ["known", "with_limit"]


def test_what_the_change_does_is_marked_on_either_side(
    known: Knowledge, with_limit: WithLimit
) -> None:
    stricter = with_limit("ord-water-total", "excess_ml_kg_day", 31)
    page = past_page(4, "a limit", water(94), Two(known, stricter), stale=False)
    before = {one.rule_id: one for one in page.before}
    after = {one.rule_id: one for one in page.after}
    assert before["ord-water-total"].news == "becomes warning"
    assert after["ord-water-total"].news == "was info"
    others = [one for one in page.after if one.rule_id != "ord-water-total"]
    assert not any(one.is_news for one in others)


def test_what_vanishes_is_on_one_side_alone(known: Knowledge, without_rule: Knowledge) -> None:
    page = past_page(4, "off", water(110), Two(known, without_rule), stale=True)
    assert {o.rule_id: o.news for o in page.before}["ord-water-total"] == "vanishes"
    assert "ord-water-total" not in {one.rule_id for one in page.after}
    assert page.stale


def test_a_request_that_cannot_be_read_is_never_shown_as_quiet(known: Knowledge) -> None:
    wrong = water(110, patient={"weight_kg": "seventy-ish"})
    page = past_page(4, "x", wrong, Two(known, known), stale=False)
    assert page.before_fault
    assert page.situation.fault


@pytest.fixture
def without_rule(known: Knowledge, with_limit: WithLimit) -> Knowledge:
    ids = {rule.id for rule in (*known.ruleset.order_rules, *known.ruleset.patient_rules)}
    return known.having(ruleset=known.ruleset.only(ids - {"ord-water-total"}))


def test_the_page_names_nobody_and_says_when_it_is_of_another_moment(
    ward: TestClient, own_app: FastAPI, change_id: int
) -> None:
    with reading(own_app.state.engine) as session:
        past_id = session.scalars(select(PastOrderRow.id)).first()
    answer = ward.get(f"/changes/{change_id}/replay/past/{past_id}")
    assert answer.status_code == 200
    assert "Kept without name" in answer.text
    assert "not what the newest replay compared" in answer.text
    assert ward.get(f"/changes/{change_id}/replay/past/999999").status_code == 404
    assert ward.get(f"/changes/99/replay/past/{past_id}").status_code == 404
