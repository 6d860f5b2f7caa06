"""The page of a rehearsal, its plan and its file."""

import csv
import io
import re
from collections.abc import Callable

import pytest
from fastapi.testclient import TestClient

from app.security.acts import Role
from tests.unit.conftest import ClientAs
from tests.unit.web.shortage.conftest import REHEARSAL, SALINE

Said = Callable[[str], str]


def test_the_first_look_lists_what_is_in_use_and_changes_nothing(
    client: TestClient, said: Said
) -> None:
    page = client.get("/shortage")
    words = said(page.text)
    assert page.status_code == 200
    assert "0.9% sodium chloride 9 orders, carries 5 drugs, at least 9.5" in words
    assert "Nothing here changes an order or the stock" in words
    assert "Supports your judgement, never replaces it" in words
    assert "If this is lost" not in words


def test_every_order_affected_says_what_it_turns_to_and_what_is_new(
    client: TestClient, said: Said
) -> None:
    page = client.get(REHEARSAL).text
    words = said(page)
    assert "9 orders affected, 9 with a substitute; 5 drugs in a carrier that is lost" in words
    orders = re.findall(r'<li class="short-order">.*?\n</li>', page, re.DOTALL)
    assert len(orders) == 9
    for order in orders:
        told = said(order)
        assert "Turn to" in told or "pharmacist and prescriber decide" in told
        assert re.search(r"New (No caution that is not there already|critical|warning|info)", told)
        assert "Distance" in told


def test_weights_and_formula_stand_on_the_page_with_whose_they_are(
    client: TestClient, said: Said
) -> None:
    words = said(client.get(REHEARSAL).text)
    assert "weight × difference" in words
    assert "The weights are ours, no source" in words
    assert "potassium 8 for each mmol/L" in words
    assert "Days left = what is counted ÷ (use per day × share lost)" in words


def test_a_second_shortage_is_said_where_a_substitute_runs_out_within_the_days(
    client: TestClient, said: Said
) -> None:
    words = said(client.get(REHEARSAL).text)
    assert "A second shortage within 7 days" in words
    assert "A second shortage" not in said(client.get(f"{REHEARSAL}&days=1").text)


def test_words_typed_lead_to_an_address_of_ids(client: TestClient) -> None:
    words = "1,000 mL bags of lactated Ringer's (US)"
    answer = client.get("/shortage", params={"add": words}, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/shortage?lost=lactated-ringers%401000&")
    assert client.get(answer.headers["location"]).status_code == 200


def test_no_address_and_no_link_of_a_plan_names_a_patient(client: TestClient) -> None:
    page = client.get(REHEARSAL).text
    links = re.findall(r'(?:href|action)="(/shortage[^"]*)"', page)
    assert any(link.startswith("/shortage/plan?") for link in links)
    for link in links:
        assert "bed" not in link
        assert "patient" not in link


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("lost=no-such-fluid", "“no-such-fluid” is not accepted"),
        (f"lost={SALINE}&share=140", "How much of deliveries: “140” is not accepted"),
        (f"lost={SALINE}&share=-1", "above 0 and at most 100"),
        (f"lost={SALINE}&days=0", "whole days, 1 to 90"),
        (f"lost={SALINE}&from=yesterday", "From when: “yesterday” is not accepted"),
        ("add=ringers", "one of:"),
        ("add=%3Cscript%3Ealert(1)%3C/script%3E", "name of a fluid"),
    ],
)
def test_what_is_wrong_is_told_beside_its_field_and_what_was_typed_stays(
    client: TestClient, said: Said, query: str, told: str
) -> None:
    page = client.get(f"/shortage?{query}")
    assert page.status_code == 422
    assert told in said(page.text)
    assert "<script>alert" not in page.text
    assert "If this is lost" not in page.text


def test_what_is_picked_stays_picked_when_another_field_is_wrong(client: TestClient) -> None:
    page = client.get(f"/shortage?lost={SALINE}&lost=mannitol-20&share=x").text
    assert re.search(rf'value="{SALINE}" checked', page)
    assert re.search(r'value="mannitol-20" checked', page)
    assert 'name="share" value="x"' in page


def test_a_fluid_without_orders_says_that_nobody_draws_on_it(
    client: TestClient, said: Said
) -> None:
    words = said(client.get("/shortage?lost=mannitol-20").text)
    assert "No order and no drug of this unit draws on what is lost" in words
    assert "not used here" in words


def test_two_bags_for_a_litre_stand_only_where_they_are_allowed(
    client: TestClient, said: Said
) -> None:
    lost = "/shortage?lost=lactated-ringers@1000"
    words = said(client.get(lost).text)
    assert "not proposed, only as 2 bags of 500 mL in place of one" in words
    assert not re.search(r"Turn to lactated Ringer", words)
    allowed = said(client.get(f"{lost}&smaller=1").text)
    assert "Turn to lactated Ringer's (US) , 2 bags of 500 mL" in allowed
    assert "they only move the shortage" in words
    assert "they only move the shortage" not in allowed


def test_the_plan_is_one_sheet_for_everything_with_date_who_and_sources(
    client: TestClient, said: Said
) -> None:
    words = said(client.get("/shortage/plan", params={"lost": SALINE, "share": "60"}).text)
    assert "Shortage plan: 0.9% sodium chloride" in words
    assert "Tue 4 Mar 2031, 07:05" in words
    assert "by Test nurse pharmacist prescriber" in words
    assert "60% of deliveries" in words
    assert "Supports your judgement, never replaces it" in words
    assert "American Thoracic Society" in words
    assert "Common practice, no source" in words
    assert "A rehearsal: no order has been changed" in words


def test_a_plan_of_nothing_leads_back_to_the_form(client: TestClient) -> None:
    for page in ("/shortage/plan", "/shortage/plan.csv"):
        answer = client.get(page, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/shortage")
        answer = client.get(f"{page}?lost=nope", follow_redirects=False)
        assert answer.headers["location"] == "/shortage?lost=nope"


def test_the_file_has_a_row_for_each_order_drug_and_substitute(client: TestClient) -> None:
    answer = client.get("/shortage/plan.csv", params={"lost": SALINE})
    assert answer.headers["content-type"].startswith("text/csv")
    assert "attachment" in answer.headers["content-disposition"]
    assert answer.headers["cache-control"] == "no-store"
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    parts = [row["part"] for row in rows]
    assert parts.count("order") == 9
    assert parts.count("drug") == 5
    assert "substitute" in parts
    assert all(row["new_cautions"] for row in rows if row["part"] == "order" and row["turn_to"])


def test_htmx_gets_the_rehearsal_alone(htmx: TestClient) -> None:
    part = htmx.get(REHEARSAL).text
    assert part.lstrip().startswith('<div id="rehearsal">')
    assert "<html" not in part


@pytest.mark.parametrize(
    ("role", "status"),
    [
        (Role.NURSE, 200), (Role.PRESCRIBER, 200), (Role.PHARMACIST, 200),
        (Role.EDUCATOR, 403), (Role.ADMINISTRATOR, 403),
    ],
)  # fmt: skip
def test_who_may_rehearse(client_as: ClientAs, role: Role, status: int) -> None:
    for page in (REHEARSAL, "/shortage/plan?lost=mannitol-20", "/shortage/plans"):
        assert client_as(role).get(page).status_code == status


def test_only_a_pharmacist_is_asked_to_keep_a_plan(client_as: ClientAs) -> None:
    assert "Keep the plan" in client_as(Role.PHARMACIST).get(REHEARSAL).text
    assert "Keep the plan" not in client_as(Role.NURSE).get(REHEARSAL).text


def test_no_substitute_stands_bare_beside_what_is_critical_as_things_are(
    client: TestClient, said: Said
) -> None:
    page = client.get(REHEARSAL).text
    orders = re.findall(r'<li class="short-order">.*?\n</li>', page, re.DOTALL)
    critical = [told for order in orders if "critical as things are" in (told := said(order))]
    assert critical
    assert all("Turn to, only once that is settled" in told for told in critical)
    plan = client.get(REHEARSAL.replace("/shortage?", "/shortage/plan?")).text
    rows = [said(row) for row in plan.split("<tr>") if "Settle first" in row]
    assert len(rows) == len(critical)
    assert all("Only once that is settled:" in row for row in rows)
