"""Plans that a pharmacist keeps, and each held against today."""

from collections.abc import Callable

from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import select

from app.security.acts import Role
from app.storage.audit.tables import TrailRow
from app.storage.database import reading
from app.storage.shortage.plans import read_plans
from tests.people import Clients
from tests.unit.web.shortage.conftest import SALINE

Said = Callable[[str], str]
ASKED = "share=60&days=14&smaller=1"


def keep(browser: TestClient, note: str = "decided at the huddle", **more: str) -> str:
    sent = {"lost": SALINE, "asked": ASKED, "note": note, **more}
    answer = browser.post("/shortage/plans", data=sent, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def test_a_plan_is_kept_with_its_note_and_its_act(ward: TestClient, own_app: FastAPI) -> None:
    where = keep(ward)
    assert where == "/shortage/plans/1"
    with reading(own_app.state.engine) as session:
        (plan,) = read_plans(session)
        row = session.scalars(select(TrailRow).where(TrailRow.subject == "plan:1")).one()
    assert (plan.document["share"], plan.document["days"]) == (0.6, 14)
    assert plan.document["smaller"] and not plan.document["shelf_too"]
    assert plan.document["orders"]
    assert row.act == "keep-shortage-plan"
    assert row.after is not None and "decided at the huddle" in row.after


def test_the_same_day_nothing_is_otherwise(ward: TestClient, said: Said) -> None:
    words = said(ward.get(keep(ward)).text)
    assert "decided at the huddle" in words
    assert "Nothing has changed that the plan tells: 9 affected" in words
    assert "Rehearse the same loss today" in words


def test_a_count_and_a_lack_since_then_are_told(ward: TestClient, said: Said) -> None:
    where = keep(ward)
    ward.post(
        f"/catalogue/{SALINE}/counts", data={"bags-1000-ward": "0", "bags-1000-pharmacy": "1"}
    )
    data = {"state": "out", "note": "lorry late"}
    ward.post("/catalogue/ringers-injection/stock", data=data)
    words = said(ward.get(where).text)
    assert "0.9% sodium chloride, days left" in words
    assert "turns to Ringer's injection (no lactate)" in words


def test_a_plan_without_a_note_or_with_too_long_a_one_is_not_kept(
    ward: TestClient, own_app: FastAPI, said: Said
) -> None:
    for note in ("", "   ", "x" * 501):
        sent = {"lost": SALINE, "asked": ASKED, "note": note}
        answer = ward.post("/shortage/plans", data=sent)
        assert answer.status_code == 422
        assert "Accepted: why it is kept" in said(answer.text)
        assert note.strip() in answer.text
    with reading(own_app.state.engine) as session:
        assert read_plans(session) == ()


def test_a_plan_of_nothing_or_of_nonsense_is_not_kept(ward: TestClient) -> None:
    for sent in ({"note": "n"}, {"note": "n", "lost": "nope"},
                 {"note": "n", "lost": SALINE, "asked": "share=999"}):  # fmt: skip
        assert ward.post("/shortage/plans", data=sent).status_code == 422


def test_a_plan_whose_beginning_came_while_its_note_was_written_is_kept_as_from_now(
    ward: TestClient, own_app: FastAPI
) -> None:
    keep(ward, asked=f"{ASKED}&from=2031-03-04T06:50")
    with reading(own_app.state.engine) as session:
        (plan,) = read_plans(session)
    assert plan.document["from"] == plan.document["at"]


def test_only_a_pharmacist_keeps_and_others_read(own_app: FastAPI, clients: Clients) -> None:
    nurse, pharmacist = clients(own_app, Role.NURSE), clients(own_app, Role.PHARMACIST)
    sent = {"lost": SALINE, "asked": ASKED, "note": "n"}
    assert nurse.post("/shortage/plans", data=sent).status_code == 403
    where = keep(pharmacist)
    assert nurse.get(where).status_code == 200
    assert "Plan 1: 0.9% sodium chloride" in nurse.get("/shortage/plans").text


def test_a_plan_that_is_not_there_is_not_found(client: TestClient) -> None:
    for number in ("0", "999", "-1", "99999999999999999999", "x"):
        assert client.get(f"/shortage/plans/{number}").status_code == 404


def test_with_none_kept_the_list_says_how(client: TestClient, said: Said) -> None:
    assert "None is kept yet" in said(client.get("/shortage/plans").text)
