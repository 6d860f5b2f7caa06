"""All fluids, found by name or by what they lack; one fluid's card."""

import re

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.acts import Role
from tests.people import EVERYDAY, person_in
from tests.unit.conftest import ClientAs
from tests.unit.web.conftest import Tell


def test_every_fluid_has_a_row_and_a_card(client: TestClient, app: FastAPI) -> None:
    html = client.get("/catalogue").text
    for fluid in app.state.knowledge.catalogue:
        assert f'href="/catalogue/{fluid.id}"' in html
        assert client.get(f"/catalogue/{fluid.id}").status_code == 200, fluid.id


def test_what_is_never_hung_says_why(client: TestClient) -> None:
    assert "Never hung as it is:" in client.get("/catalogue").text
    for fluid_id in ("sterile-water", "potassium-chloride-concentrate", "sodium-chloride-23.4"):
        assert "Never hung as it is." in client.get(f"/catalogue/{fluid_id}").text


def test_a_search_for_no_calcium_finds_no_lactated_ringer_s(client: TestClient) -> None:
    html = client.get("/catalogue?find=balanced no calcium").text
    assert 'href="/catalogue/multiple-electrolytes-type-1-ph-7.4"' in html
    assert 'href="/catalogue/lactated-ringers"' not in html
    assert "read as no calcium" in html


def test_a_search_that_finds_nothing_says_so(client: TestClient) -> None:
    answer = client.get("/catalogue?find=zzqq")
    assert answer.status_code == 200
    assert "Nothing in the catalogue fits “zzqq”" in answer.text


def test_the_part_equals_its_piece_of_the_page(client: TestClient, htmx: TestClient) -> None:
    address = "/catalogue?find=ringer"
    part = htmx.get(address).text
    assert part.startswith('<div id="fluids">')
    assert part.strip() in client.get(address).text


def test_an_unknown_fluid_is_named(client: TestClient) -> None:
    answer = client.get("/catalogue/nonsuch")
    assert answer.status_code == 404
    assert "no fluid “nonsuch”" in answer.text


def test_a_card_shows_the_litre_and_every_bag_together(client: TestClient) -> None:
    html = client.get("/catalogue/sodium-chloride-0.9").text
    made = re.sub(r"<[^>]+>", "", html[html.index('id="made_of"') :])
    assert "38.5" in made
    assert "250 mL" in made


def test_a_card_tells_its_variants_apart_and_its_sources(client: TestClient) -> None:
    html = client.get("/catalogue/lactated-ringers").text
    for words in (
        "Same name, other contents", "compound sodium lactate", "Cautions that speak of it",
        "text seen", "No clinician has reviewed this card", "130 + 4 + 2 × 1.35 − 109 = 27.7",
    ):  # fmt: skip
        assert words in html


def test_markup_in_a_search_stays_text(client: TestClient) -> None:
    assert "<b>x" not in client.get("/catalogue?find=<b>x").text


SALINE = "/catalogue/sodium-chloride-0.9"


def test_the_list_and_the_card_say_where_a_fluid_is(client: TestClient) -> None:
    rows = client.get("/catalogue").text
    assert '<span class="stock-tag">short since Mon 3 Mar 15:10</span>' in rows
    assert '<span class="stock-tag stock-gone">out since 05:40</span>' in rows
    card = client.get("/catalogue/multiple-electrolytes-type-1-ph-7.4").text
    assert "Stock: <span" in card
    assert "Last bag hung at night; next delivery on Thursday. Told by pharmacy." in card


def test_of_a_fluid_that_nobody_told_of_the_card_says_so(client: TestClient) -> None:
    assert "nobody has told where it is" in client.get("/catalogue/dextrose-50").text


def test_what_is_told_on_the_card_shows_at_once_and_what_was_told_before_stays(
    ward: TestClient, tell: Tell
) -> None:
    answer = tell("sodium-chloride-0.9", "out", "lorry <late>", by="somebody else")
    assert (answer.status_code, answer.headers["location"]) == (303, f"{SALINE}#stock")
    card = ward.get(SALINE).text
    assert "out since 07:05" in card
    assert f"Lorry &lt;late&gt;. Told by {person_in(*EVERYDAY).name}." in card
    assert "somebody else" not in card
    assert "on the ward since Mon 3 Mar 14:30. Told by ward stock round." in card
    assert "out since 07:05" in ward.get("/catalogue").text


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"state": "gone"}, "Where it is: “gone” is not accepted. Accepted: on the ward,"),
        ({}, "Where it is: nothing is written."),
        ({"state": "out"}, "Why: nothing is written. Accepted: why it is out"),
        ({"state": "out", "note": "x" * 201}, "at most 200 letters"),
    ],
)
def test_what_is_not_accepted_is_said_beside_the_field_and_nothing_is_kept(
    ward: TestClient, data: dict[str, str], said: str
) -> None:
    answer = ward.post(f"{SALINE}/stock", data=data)
    assert answer.status_code == 422
    assert said in answer.text
    assert "<details open>" in answer.text
    assert f'value="{data.get("note", "")}"' in answer.text
    assert "on the ward since Mon 3 Mar 14:30" in ward.get(SALINE).text


def test_no_other_site_can_tell_of_stock(ward: TestClient) -> None:
    told = {"state": "out", "note": "false"}
    answer = ward.post(f"{SALINE}/stock", data=told, headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 403
    assert "out since" not in ward.get(SALINE).text


def test_stock_of_an_unknown_fluid_is_not_told(ward: TestClient, tell: Tell) -> None:
    assert tell("nonsuch", "out").status_code == 404
    assert ward.get("/catalogue/nonsuch/stock").status_code == 404


def test_a_fluid_known_by_another_id_is_told_of_under_its_own(
    ward: TestClient, tell: Tell, app: FastAPI
) -> None:
    fluid = next(f for f in app.state.knowledge.catalogue if f.reference_id not in ("", f.id))
    answer = tell(fluid.reference_id, "out")
    assert answer.headers["location"] == f"/catalogue/{fluid.id}#stock"
    assert "out since 07:05" in ward.get(f"/catalogue/{fluid.id}").text


def test_reloading_a_form_that_was_not_accepted_leads_to_the_card(ward: TestClient) -> None:
    answer = ward.get(f"{SALINE}/stock", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, f"{SALINE}#stock")


def test_who_may_not_tell_reads_where_a_fluid_is_and_finds_no_form(client_as: ClientAs) -> None:
    card = client_as(Role.EDUCATOR).get(SALINE).text
    assert "on the ward" in card
    assert "Tell everyone" not in card
    assert "Told by Test nurse" in client_as(Role.NURSE).get(SALINE).text
