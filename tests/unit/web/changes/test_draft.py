"""A limit or a rule is drafted from its own page; nothing typed is lost."""

from datetime import timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.acts import Role
from tests.people import Clients
from tests.unit.web.changes.conftest import NOW, Draft, decide, limit_form, number_of, switch_form

YESTERDAY = (NOW - timedelta(days=1)).strftime("%Y-%m-%dT%H:%M")


def test_the_form_says_what_is_in_force_and_what_is_accepted(pharmacist: TestClient) -> None:
    html = pharmacist.get("/rules/k-hyper/change?limit=potassium_high_mmol_l").text
    for words in ("5.5 mmol/L", "from 0.55 to 55", "counts for nothing", "Supports your judgement"):
        assert words in html


@pytest.mark.parametrize(
    ("field", "written", "accepted"),
    [
        ("value", "", "a number"),
        ("value", "-5", "from 0.55 to 55"),
        ("value", "nan", "from 0.55 to 55"),
        ("value", "5.5", "another value"),
        ("reason", "  ", "why it is changed"),
        ("reason", "x" * 601, "at most 600"),
        ("effective_from", YESTERDAY, "a moment not before"),
        ("effective_from", "soon", "a moment not before"),
        ("effective_from", "2099-01-01T00:00", "not after"),
        ("review_on", "", "a day after"),
        ("review_on", "2020-01-01", "a day after"),
        ("review_on", "2099-01-01", "not after"),
        ("based_on", "whenever", "the moment at which"),
        ("revises", "77", "that was sent back"),
    ],
)
def test_bad_input_names_field_value_and_what_is_accepted_and_keeps_the_rest(
    pharmacist: TestClient, draft: Draft, field: str, written: str, accepted: str
) -> None:
    answer = draft({**limit_form(pharmacist, reason="kept words"), field: written})
    assert answer.status_code == 422
    assert accepted in answer.text
    if field != "reason":
        assert "kept words" in answer.text
    assert "Nothing has been changed here" in pharmacist.get("/changes").text


@pytest.mark.parametrize(
    "address",
    [
        "/rules/nonsuch/change?turn=off", "/rules/k-hyper/change?limit=nonsuch",
        "/rules/k-hyper/change", "/rules/k-hyper/change?turn=away",
        "/rules/data-missing/change?turn=off",
    ],
)  # fmt: skip
def test_what_cannot_be_changed_has_no_form(pharmacist: TestClient, address: str) -> None:
    assert pharmacist.get(address).status_code == 404
    path, _, query = address.partition("?")
    field, _, value = query.partition("=")
    form = {**switch_form(pharmacist), "turn": "", field: value} if field else {"turn": ""}
    assert pharmacist.post(path, data=form).status_code == 404


def test_the_second_of_two_is_told_field_by_field_what_the_first_drafted(
    pharmacist: TestClient, draft: Draft, own_app: FastAPI, clients: Clients
) -> None:
    second = clients(own_app, Role.PHARMACIST, Role.NURSE)
    form = limit_form(second, "5.9", reason="from the round of Monday")
    first = number_of(draft(limit_form(pharmacist, "6.2")))
    late = second.post("/rules/k-hyper/change", data=form, follow_redirects=False)
    assert late.status_code == 409
    assert "Somebody was at the same while you wrote" in late.text
    assert f"/changes/{first}" in late.text and "6.2 mmol/L" in late.text
    assert 'value="5.9"' in late.text and "from the round of Monday" in late.text
    again = {**form, "based_on": late.text.split('name="based_on" value="')[1].split('"')[0]}
    sent = second.post("/rules/k-hyper/change", data=again, follow_redirects=False)
    assert number_of(sent) == first + 1
    assert "Others have drafted the same" in second.get(f"/changes/{first + 1}").text


def test_what_came_to_count_meanwhile_is_told_too(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    form = limit_form(pharmacist, "5.9")
    decide(prescriber, number_of(draft(limit_form(pharmacist, "6.2"))), "approve", "no replay yet")
    late = draft(form)
    assert late.status_code == 409
    assert "this came to count" in late.text and "6.2 mmol/L" in late.text


def test_a_limit_goes_back_to_what_the_release_has(
    pharmacist: TestClient, prescriber: TestClient, draft: Draft
) -> None:
    decide(prescriber, number_of(draft(limit_form(pharmacist))), "approve", "no replay yet")
    back = number_of(draft(limit_form(pharmacist, "", shipped="1")))
    assert "as shipped" in pharmacist.get(f"/changes/{back}").text
    decide(prescriber, back, "approve", "no replay yet")
    html = pharmacist.get("/rules").text
    assert "Every limit is as the release has it" in html


def test_a_rule_that_runs_is_not_switched_on(pharmacist: TestClient, draft: Draft) -> None:
    answer = draft(switch_form(pharmacist, "on"))
    assert answer.status_code == 422
    assert "something else than what is in force" in answer.text


@pytest.mark.parametrize("revises", ["9" * 30, "9" * 5000, "²", "-1"])
def test_what_is_no_number_of_a_draft_is_none(
    pharmacist: TestClient, draft: Draft, revises: str
) -> None:
    form = {**limit_form(pharmacist, reason=""), "revises": revises}
    answer = draft(form)
    assert answer.status_code == 422
    assert "why it is changed" in answer.text
