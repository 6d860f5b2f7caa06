"""All fluids, found by name or by what they lack; one fluid's card."""

import re

from fastapi import FastAPI
from fastapi.testclient import TestClient


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
