"""Bags counted on a page: what is accepted, what is told, and its act in the trail."""

from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient
from sqlalchemy import select
from starlette.applications import Starlette

from app.storage.audit.tables import TrailRow
from app.storage.database import reading

Said = Callable[[str], str]
PAGE = "/catalogue/dextrose-5/counts"


def test_the_page_asks_for_each_size_in_each_place(client: TestClient, said: Said) -> None:
    words = said(client.get(PAGE).text)
    assert "1,000 mL on the ward last: 3, Mon 3 Mar" in words
    assert "250 mL in pharmacy last: not counted" in words
    assert "0 is none found" in words


def test_what_is_counted_is_told_with_who_and_when_and_recorded(
    ward: TestClient, said: Said
) -> None:
    sent = {"bags-1000-ward": "5", "bags-500-pharmacy": "0"}
    answer = ward.post(PAGE, data=sent, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, PAGE)
    words = said(ward.get(PAGE).text)
    assert "5 bags of 1,000 mL on the ward, 07:05, counted by Test nurse pharmacist" in words
    assert "No bags of 500 mL in pharmacy, 07:05" in words
    assert "3 bags of 1,000 mL on the ward" in words, "what was counted before stays"
    assert isinstance(ward.app, Starlette)
    with reading(ward.app.state.engine) as session:
        row = session.scalars(select(TrailRow).where(TrailRow.act == "count-bags")).one()
    assert row.subject == "stock:dextrose-5"
    assert row.after == '{"1000 mL, ward":5,"500 mL, pharmacy":0}'
    assert row.before == '{"1000 mL, ward":3,"500 mL, pharmacy":null}'


@pytest.mark.parametrize("bad", ["-1", "5 L", "1.5", "100000", "many", "<b>"])
def test_what_is_no_number_of_bags_is_told_and_nothing_typed_is_lost(
    ward: TestClient, said: Said, bad: str
) -> None:
    sent = {"bags-1000-ward": bad, "bags-500-ward": "7"}
    answer = ward.post(PAGE, data=sent)
    assert answer.status_code == 422
    assert f"“{bad}” is not accepted" in said(answer.text)
    assert "<b>” is" not in answer.text
    assert 'name="bags-500-ward" value="7"' in answer.text
    assert "7 bags" not in said(ward.get(PAGE).text)


def test_a_form_with_nothing_in_it_is_told(ward: TestClient, said: Said) -> None:
    answer = ward.post(PAGE, data={})
    assert answer.status_code == 422
    assert "at least one number of bags" in said(answer.text)


def test_a_fluid_that_is_none_is_not_found(client: TestClient) -> None:
    assert client.get("/catalogue/nope/counts").status_code == 404
    assert client.post("/catalogue/nope/counts", data={}).status_code == 404


def test_a_count_changes_the_days_left(ward: TestClient, said: Said) -> None:
    page = "/shortage?lost=dextrose-5"
    assert "15 days" in said(ward.get(page).text)
    ward.post(PAGE, data={"bags-1000-ward": "0", "bags-1000-pharmacy": "2"})
    assert "2 days" in said(ward.get(page).text)
