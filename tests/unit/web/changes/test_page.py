"""A change is drafted by one person and decided by another, in their browsers."""

from datetime import UTC, datetime

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.catalogue.changes.change import FluidEntry, RuleSwitch
from app.catalogue.document import document_of
from app.main import create_app
from app.security.acts import Role
from app.storage.database import transaction
from app.storage.replays.jobs import Asked, ask
from tests.changing import drafted, in_force
from tests.people import Clients
from tests.unit.review.changes.conftest import NOW
from tests.unit.web.changes.conftest import Draft, decide, limit_form, number_of, switch_form

REVIEW = {
    "patient": {
        "age_years": 61,
        "weight_kg": 70,
        "observations": [
            {"name": "potassium", "value": 5.9, "unit": "mmol/L",
             "taken_at": "2031-03-04T05:00:00Z"},
        ],
    },
    "now": "2031-03-04T07:00:00Z",
    "orders": [{"id": "o1", "fluid": "lactated Ringer's", "volume_ml": 1000, "rate_ml_h": 125,
                "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}]}],
}  # fmt: skip
MACHINE = {"Authorization": "Bearer demo"}
WHY = "agreed before the replay is at hand"


def spoken(client: TestClient) -> list[str]:
    reply = client.post("/api/review", json=REVIEW, headers=MACHINE).json()
    return [found["rule_id"] for found in reply["orders"][0]["findings"]]


def test_a_unit_that_changed_nothing_says_where_to_begin(pharmacist: TestClient) -> None:
    html = pharmacist.get("/changes").text
    assert "Nothing has been changed here" in html and "Supports your judgement" in html


def test_an_approved_limit_counts_at_once_in_every_worker_and_stands_beside_the_release(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft, own_app: FastAPI, clients: Clients
) -> None:
    another = clients(create_app(own_app.state.settings), Role.NURSE)
    assert "k-hyper" in spoken(another)
    number = number_of(draft(limit_form(pharmacist)))
    assert "k-hyper" in spoken(another)
    assert decide(prescriber, number, "approve", WHY).status_code == 303
    assert "k-hyper" not in spoken(another)
    for address in ("/rules/k-hyper", "/rules"):
        html = another.get(address).text
        assert "6.2 mmol/L" in html and "5.5 mmol/L" in html
        assert "Test pharmacist" in html and "Test prescriber" in html
        assert "agreed with the kidney unit" in html
    assert "In force" in another.get("/changes").text


def test_a_rule_that_is_off_is_named_in_every_review_it_would_have_spoken_in(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    number = number_of(draft(switch_form(pharmacist)))
    decide(prescriber, number, "approve", WHY)
    reply = prescriber.post("/api/review", json=REVIEW, headers=MACHINE).json()
    assert "k-hyper" not in [found["rule_id"] for found in reply["orders"][0]["findings"]]
    (off,) = reply["switched_off"]
    assert off["rule_id"] == "k-hyper" and off["would_have_spoken"] and off["order_ids"] == ["o1"]
    assert off["by"] == "Test pharmacist and Test prescriber" and off["reason"] == "too loud here"
    assert "Switched off here" in prescriber.get("/rules/k-hyper").text
    assert "1 is switched off" in prescriber.get("/rules").text


def test_boards_and_comparisons_that_were_made_before_notice_what_came_to_count(
    ward: TestClient, own_app: FastAPI
) -> None:
    """They are kept while nothing they rest on changes; content is one of those things."""
    compared = "/compare?fluid=lactated-ringers&fluid=sodium-chloride-0.9"
    board, picture = ward.get("/").text, ward.get(compared).text
    assert ward.get(compared).text == picture
    fluid = own_app.state.knowledge.catalogue.get("lactated-ringers")
    document = document_of(fluid)
    document["composition_mmol_l"] |= {"sodium": 131, "chloride": 110}
    in_force(own_app.state.engine, FluidEntry(fluid.id, document), NOW)
    in_force(own_app.state.engine, RuleSwitch("k-hyper", on=False), NOW)
    after = ward.get("/").text
    assert "Switched off here" in after and "Switched off here" not in board
    assert "131" in ward.get(compared).text and "131" not in picture
    told = ward.get("/api/fluids/lactated-ringers", headers=MACHINE).json()
    assert told["composition"]["sodium_mmol_l"] == 131


def test_a_fluid_that_is_drafted_shows_whether_its_label_adds_up(
    pharmacist: TestClient, own_app: FastAPI
) -> None:
    document = {**document_of(own_app.state.knowledge.catalogue.get("lactated-ringers"))}
    document |= {"id": "ringers-of-ours", "name": "Ringer's of ours"}
    document.pop("reference_id")
    number = drafted(own_app.state.engine, FluidEntry("ringers-of-ours", document), NOW)
    html = pharmacist.get(f"/changes/{number}").text
    assert "Does the label add up?" in html and "cations 136.7" in html
    assert "not in the catalogue" in html and "Ringer&#39;s of ours: new" in html
    assert pharmacist.get("/catalogue/ringers-of-ours/history").status_code == 200


def test_nobody_approves_a_draft_of_their_own(pharmacist: TestClient, draft: Draft) -> None:
    number = number_of(draft(limit_form(pharmacist)))
    page = pharmacist.get(f"/changes/{number}").text
    assert "Nobody approves a draft of their own" in page
    answer = decide(pharmacist, number, "approve", WHY)
    assert answer.status_code == 409
    assert "Nobody approves a draft of their own" in answer.text


def test_one_of_the_two_is_a_pharmacist(
    own_app: FastAPI, clients: Clients, prescriber: TestClient
) -> None:
    other = clients(own_app, Role.PRESCRIBER, Role.NURSE)
    form = limit_form(other)
    answer = other.post("/rules/k-hyper/change", data=form, follow_redirects=False)
    told = decide(prescriber, number_of(answer), "approve", WHY)
    assert told.status_code == 409 and "must be a pharmacist" in told.text


def test_without_a_replay_a_reason_must_be_written_and_what_was_typed_is_kept(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    number = number_of(draft(limit_form(pharmacist)))
    answer = decide(prescriber, number, "approve")
    assert answer.status_code == 422
    assert "although it was not replayed on past orders" in answer.text
    late = decide(prescriber, number, "approve", "kept words", seen="not a moment")
    assert late.status_code == 422
    assert "kept words" in late.text


def test_while_it_is_run_on_past_orders_its_page_says_so(
    pharmacist: TestClient, draft: Draft, own_app: FastAPI
) -> None:
    number = number_of(draft(limit_form(pharmacist)))
    assert "Not run on past orders yet" in pharmacist.get(f"/changes/{number}").text
    at = datetime.now(UTC)  # noqa: TID251 - a run is silent by the real clock
    with transaction(own_app.state.engine) as session:
        ask(session, Asked(at, "Test pharmacist", "a-1", "seed", number))
    html = pharmacist.get(f"/changes/{number}").text
    assert "It is being run now." in html
    assert "Not run on past orders yet" not in html


@pytest.mark.parametrize("first", ["approve", "send-back", "withdraw"])
@pytest.mark.parametrize("then", ["approve", "send-back"])
def test_what_is_decided_is_decided_once(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft, first: str, then: str
) -> None:
    number = number_of(draft(limit_form(pharmacist)))
    seen = pharmacist.get(f"/changes/{number}").text.split('name="seen" value="')[1].split('"')[0]
    decider = pharmacist if first == "withdraw" else prescriber
    assert decide(decider, number, first, WHY, seen=seen).status_code == 303
    again = decide(prescriber, number, then, WHY, seen=seen)
    assert again.status_code == 409
    assert "before, so it cannot be" in again.text


def test_a_draft_that_was_sent_back_is_written_anew_with_what_it_said(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    number = number_of(draft(limit_form(pharmacist)))
    assert decide(prescriber, number, "send-back", "6.2 is too high").status_code == 303
    page = pharmacist.get(f"/changes/{number}").text
    assert "6.2 is too high" in page and "Write it anew" in page
    form = pharmacist.get(
        f"/rules/k-hyper/change?limit=potassium_high_mmol_l&revises={number}"
    ).text
    assert 'value="6.2"' in form and "agreed with the kidney unit" in form
    anew = number_of(draft(limit_form(pharmacist, "5.8", revises=str(number))))
    assert f"change {number}</a>, which was sent back" in pharmacist.get(f"/changes/{anew}").text
    twice = draft(limit_form(pharmacist, "5.9", revises=str(anew)))
    assert twice.status_code == 422 and "that was sent back" in twice.text


def test_what_waits_for_its_moment_does_not_count_and_can_be_withdrawn_before(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    later = limit_form(pharmacist)["review_on"]
    form = limit_form(pharmacist, effective_from=f"{later}T07:00")
    form["review_on"] = f"{int(later[:4]) + 1}{later[4:]}"
    number = number_of(draft(form))
    decide(prescriber, number, "approve", WHY)
    assert "waits for its moment" in prescriber.get(f"/changes/{number}").text
    assert "k-hyper" in spoken(prescriber)
    assert decide(prescriber, number, "withdraw", "no longer wanted").status_code == 303
    assert "Never counted" in prescriber.get(f"/changes/{number}").text


def test_changes_are_found_by_how_they_stand_and_what_they_change(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    number_of(draft(limit_form(pharmacist)))
    number_of(draft(switch_form(pharmacist)))
    assert "/changes/1" in pharmacist.get("/changes?kind=limit").text
    assert "/changes/2" not in pharmacist.get("/changes?kind=limit").text
    assert "No change stands so" in pharmacist.get("/changes?state=withdrawn").text
    assert "/changes/2" in pharmacist.get("/changes?state=nonsuch&kind=nonsuch").text
    whole = pharmacist.get("/changes")
    part = pharmacist.get("/changes", headers={"HX-Request": "true"})
    assert "<html" not in part.text and part.text.strip() in whole.text


@pytest.mark.parametrize("number", ["0", "99", "99999999999999999999"])
def test_a_change_that_is_not_there_is_named(pharmacist: TestClient, number: str) -> None:
    assert pharmacist.get(f"/changes/{number}").status_code == 404
    answer = pharmacist.post(f"/changes/{number}/approve", data={"reason": "x", "seen": ""})
    assert answer.status_code == 404


def test_a_nurse_reads_changes_and_decides_none(
    own_app: FastAPI, clients: Clients, pharmacist: TestClient, draft: Draft
) -> None:
    nurse = clients(own_app, Role.NURSE)
    number = number_of(draft(limit_form(pharmacist)))
    page = nurse.get(f"/changes/{number}")
    assert page.status_code == 200 and "Decide" not in page.text
    assert decide(nurse, number, "approve", WHY, seen="x").status_code == 403
    assert "/change?limit=" not in nurse.get("/rules/k-hyper").text
