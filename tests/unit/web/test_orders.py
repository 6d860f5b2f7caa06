"""The order page: found as one types, kept as typed, nothing saved."""

import html
import re
from urllib.parse import parse_qsl

import pytest
from fastapi.testclient import TestClient

from app.web.orders import field_of, message
from tests.unit.web.conftest import Tell

HIGH = {
    "fluid": "0.9% sodium chloride", "volume": "1000", "rate": "125", "age": "61",
    "weight": "70", "additive": "potassium chloride", "amount": "40", "unit": "mmol",
    "result_potassium": "6.1", "results_age": "2",
}  # fmt: skip


def headline_of(html: str) -> str:
    found = re.search(r'id="review-headline"[^>]*>([^<]*)<', html)
    assert found
    return found.group(1)


def slots_of(html: str) -> dict[str, str]:
    """Each field's message, by slot."""
    return dict(re.findall(r'id="(error-[\w-]+)" hx-swap-oob="true">([^<]*)<', html))


def test_an_empty_page_asks_for_an_order(client: TestClient) -> None:
    answer = client.get("/orders/new")
    assert answer.status_code == 200
    assert "Write an order" in headline_of(answer.text)


def test_potassium_in_a_high_potassium_is_found_with_what_to_do(client: TestClient) -> None:
    answer = client.post("/orders/review", data=HIGH)
    assert answer.status_code == 200
    assert "critical" in headline_of(answer.text)
    assert "6.1" in answer.text
    assert "<b>Do</b>" in answer.text
    assert "Local policy and the product label win" in answer.text


def test_what_is_missing_says_what_it_does_not_rule_out(client: TestClient) -> None:
    page = client.post("/orders/review", data={**HIGH, "result_potassium": ""}).text
    assert "Missing is not normal." in page
    told = '<b>No potassium result</b>, so not ruled out: <span class="tag">critical</span> '
    assert told in page


def test_what_htmx_gets_are_pieces_of_the_page(client: TestClient, htmx: TestClient) -> None:
    sent = {**HIGH, "additive": ["potassium chloride", ""], "amount": ["40", ""],
            "unit": ["mmol", "mmol"], "with": ["", ""]}  # fmt: skip
    part, page = (
        htmx.post("/orders/review", data=sent).text,
        client.post("/orders/review", data=sent).text,
    )
    review = re.search(r'<section id="review".*</section>', part, re.DOTALL)
    assert review
    assert review.group() in page
    assert slots_of(part) == slots_of(page)
    strip = re.search(r'<a id="strip".*?</a>', part)
    assert strip
    assert strip.group() in page


def test_a_part_fills_only_places_that_the_page_has(client: TestClient, htmx: TestClient) -> None:
    page = client.get("/orders/new?patient=bed-04").text
    sent = {"patient": "bed-04", "fluid": "x", "additive": ["", ""], "with": ["", ""]}
    assert set(slots_of(htmx.post("/orders/review", data=sent).text)) == set(slots_of(page))


@pytest.mark.parametrize(
    ("field", "value", "slot", "says"),
    [
        ("rate", "12o", "error-rate", "Rate: “12o”"),
        ("rate", "-5", "error-rate", "a number from 0.001"),
        ("volume", "9e99", "error-volume", "mL"),
        ("weight", "heavy", "error-weight", "Weight: “heavy”"),
        ("age", "sixty", "error-age", "years"),
        ("results_age", "yesterday", "error-results_age", "hours as a number"),
        ("sex", "?", "error-sex", "female or male"),
    ],
)
def test_bad_input_names_field_value_and_what_is_accepted_and_keeps_what_was_typed(
    client: TestClient, field: str, value: str, slot: str, says: str
) -> None:
    answer = client.post("/orders/review", data={**HIGH, field: value})
    assert answer.status_code == 422
    assert says in slots_of(answer.text)[slot]
    assert f'value="{value}"' in answer.text
    assert 'value="0.9% sodium chloride"' in answer.text
    assert "Not reviewed" in headline_of(answer.text)


@pytest.mark.parametrize(
    "sent",
    [
        {"fluid": "moon dust"},
        {"fluid": "0.9% sodium chloride", "rate": "1" * 5000},
        {"fluid": "x" * 100_000},
        {"fluid": "\x00", "conditions": "\x00\ud7ff"},
        {"fluid": ["a"] * 500, "additive": ["b"] * 500, "amount": ["c"] * 500},
        {"fluid": "0.9% sodium chloride", "additive": "potassium chloride", "amount": "many"},
        {"fluid": "0.9% sodium chloride", "result_potassium": "nan", "results_age": "inf"},
    ],
)
def test_nothing_typed_breaks_the_page(client: TestClient, sent: dict[str, str]) -> None:
    assert client.post("/orders/review", data=sent).status_code in {200, 400, 422}


def test_an_unknown_fluid_is_asked_about_and_never_guessed(client: TestClient) -> None:
    answer = client.post("/orders/review", data={**HIGH, "fluid": "moon dust"})
    assert answer.status_code == 200
    assert "“moon dust”" in answer.text
    assert "No fluid of the catalogue was understood" in answer.text


def test_a_link_gives_the_same_page(client: TestClient) -> None:
    posted = client.post("/orders/review", data=HIGH).text
    linked = client.get("/orders/new", params=HIGH).text
    assert headline_of(posted) == headline_of(linked)


def test_the_link_to_share_holds_the_order_and_nothing_of_the_patient(client: TestClient) -> None:
    page = client.post("/orders/review", data={**HIGH, "conditions": "dialysis"}).text
    found = re.search(r'href="(/orders/new\?fluid[^"]*)"', page)
    assert found
    assert "rate=125" in found.group(1)
    assert "amount=40" in found.group(1)
    for private in ("70", "6.1", "61", "dialysis", "weight", "result"):
        assert private not in found.group(1)


def test_a_picked_patient_brings_results_and_running_orders(client: TestClient) -> None:
    sent = {**HIGH, "patient": "bed-04", "lumen": "right forearm"}
    page = client.post("/orders/review", data=sent).text
    assert "A day of all orders" in page
    assert 'name="weight"' not in page
    assert "Bed 04" in page


def test_a_picked_patients_results_stand_beside_with_their_age(client: TestClient) -> None:
    page = client.get("/orders/new?patient=bed-04").text
    assert re.search(r">1 h 30 min old:</span> [^<]*Potassium 6\.1 mmol/L", page)


def test_an_order_in_place_of_a_running_one_is_not_counted_twice(client: TestClient) -> None:
    sent = {**HIGH, "patient": "bed-04", "instead": "o1"}
    assert "A day of all orders" not in client.post("/orders/review", data=sent).text


def test_a_patient_who_has_left_is_told_plainly(client: TestClient) -> None:
    answer = client.get("/orders/new?patient=nobody")
    assert answer.status_code == 404
    assert "No such patient" in answer.text


def test_looking_saves_nothing(client: TestClient) -> None:
    before = client.get("/").text
    client.post("/orders/review", data={**HIGH, "patient": "bed-04"})
    assert client.get("/").text == before


def test_every_field_has_a_label_and_a_place_for_its_message(client: TestClient) -> None:
    page = client.get("/orders/new").text
    ids = set(re.findall(r'<(?:input|select|textarea) id="([^"]+)"', page))
    labels = set(re.findall(r'<label for="([^"]+)"', page))
    assert ids == labels
    described = set(re.findall(r'aria-describedby="(error-[^"]+)"', page))
    assert described == set(slots_of(page))


def test_the_page_has_no_script_or_style_within(client: TestClient) -> None:
    page = client.get("/orders/new").text
    assert not re.search(r"<script(?![^>]*src=)|\son\w+=|\sstyle=|<style|hx-on", page)
    assert 'method="post" action="/orders/review"' in page


def test_a_path_of_the_request_leads_to_its_field() -> None:
    fields = {"orders[0].rate_ml_h": "rate", "orders[0].additives[1]": "additive_1"}
    assert field_of("orders[0].rate_ml_h", fields) == "rate"
    assert field_of("orders[0].additives[1].amount", fields) == "additive_1"
    assert field_of("results_age", {}) == "results_age"


def test_a_message_says_field_value_and_what_is_accepted() -> None:
    assert message("rate", "12o", "a number") == "Rate: “12o” is not accepted. Accepted: a number."
    assert message("amount_1", "x", "a number").startswith("Amount 2: “x”")


def test_an_ambiguous_name_offers_each_meaning_and_one_press_settles_it(
    client: TestClient, htmx: TestClient
) -> None:
    vague = {**HIGH, "fluid": "Ringer's"}
    page = client.post("/orders/review", data=vague).text
    assert headline_of(page).startswith("Choose which fluid is meant")
    meanings = re.findall(r'name="meant" value="([^"]+)"', page)
    assert len(meanings) > 1
    chosen = html.unescape(meanings[0])
    whole = client.post("/orders/review", data={**vague, "meant": chosen}).text
    assert f'name="fluid" value="{meanings[0]}"' in whole
    assert 'name="meant"' not in whole
    part = htmx.post("/orders/review", data={**vague, "meant": chosen}).text
    assert re.search(r'<input id="fluid"[^>]*value="lactated[^>]*hx-swap-oob="true"', part)


def test_a_name_no_fluid_has_leads_to_the_list_of_fluids(client: TestClient) -> None:
    page = client.post("/orders/review", data={**HIGH, "fluid": "qwertz solution"}).text
    assert 'href="/catalogue?find=qwertz%20solution"' in page


def test_taking_a_patient_keeps_the_order_that_was_typed(
    client: TestClient, htmx: TestClient
) -> None:
    sent = {**HIGH, "do": "pick", "picked": "bed-04"}
    for answer in (
        client.post("/orders/review", data=sent),
        htmx.post("/orders/review", data=sent),
    ):
        assert 'name="patient" value="bed-04"' in answer.text
        assert 'name="rate" value="125"' in answer.text
    back = client.post("/orders/review", data={**sent, "patient": "bed-04", "do": "type"}).text
    assert 'name="patient"' not in back
    assert 'name="rate" value="125"' in back


def test_enter_in_a_field_reviews_the_order_and_does_nothing_else(client: TestClient) -> None:
    form = client.get("/orders/new").text.split('<form id="form"', 1)[1]
    first = re.search(r"<button[^>]*>", form)
    assert first
    assert "name=" not in first.group()


def test_an_order_is_read_back_and_leads_to_a_comparison(client: TestClient) -> None:
    page = client.post("/orders/review", data={**HIGH, "patient": "bed-04"}).text
    assert "0.9% sodium chloride with 40 mmol potassium chloride, 1,000 mL, 125 mL/h" in page
    assert 'href="/compare?fluid=sodium-chloride-0.9&amp;patient=bed-04"' in page


BESIDE_BLOOD = {
    "patient": "bed-09", "fluid": "lactated Ringer's (US)", "volume": "1000", "rate": "100",
    "lumen": "right elbow",
}  # fmt: skip


def test_what_is_out_is_no_way_out_of_an_order_from_the_next_look_on(
    ward: TestClient, tell: Tell
) -> None:
    way = '<a href="/catalogue/sodium-chloride-0.9">0.9% sodium chloride</a>'
    before = ward.post("/orders/review", data=BESIDE_BLOOD).text
    assert f'{way} <span class="tag">on the ward</span>' in before
    tell("sodium-chloride-0.9", "withdrawn")
    assert way not in ward.post("/orders/review", data=BESIDE_BLOOD).text


def test_an_ordered_fluid_that_is_out_says_so_beside_the_order(
    ward: TestClient, tell: Tell
) -> None:
    tell("lactated-ringers", "out")
    for headers in ({}, {"HX-Request": "true"}):
        page = ward.post("/orders/review", data=BESIDE_BLOOD, headers=headers).text
        assert "Lactated Ringer's (US): out since 07:05. Lorry late." in html.unescape(page)


def ahead_of(page: str) -> dict[str, str]:
    """The fields that the page asks its short prediction with."""
    asks = re.search(r'hx-get="/predict/ahead[?]([^"]+)"', page)
    return dict(parse_qsl(html.unescape(asks[1]))) if asks else {}


def test_what_it_will_do_is_asked_with_what_is_typed_of_the_patient(client: TestClient) -> None:
    typed = {
        **HIGH, "weight": "62", "conditions": "acute kidney injury", "result_glucose": "360",
        "unit_glucose": "mg/dL",
    }  # fmt: skip
    asked = ahead_of(client.post("/orders/review", data=typed).text)
    assert (asked["volume"], asked["rate"], asked["potassium"]) == ("3000", "125", "120")
    assert (asked["weight"], asked["kidneys"], "patient" in asked) == ("62", "1", False)
    assert 19 < float(asked["result_glucose"]) < 21


def test_it_is_asked_beside_what_runs_or_in_place_of_it(client: TestClient) -> None:
    sent = {**HIGH, "patient": "bed-04"}
    assert ahead_of(client.post("/orders/review", data=sent).text)["instead"] == "none"
    instead = client.post("/orders/review", data={**sent, "instead": "o1"}).text
    assert ahead_of(instead)["instead"] == "o1"


def test_a_bag_that_is_renewed_is_said_to_be(client: TestClient) -> None:
    said = "taken to be renewed for a day"
    assert said in client.post("/orders/review", data=HIGH).text
    once = client.post("/orders/review", data={**HIGH, "duration": "8"}).text
    assert said not in once and ahead_of(once)["volume"] == "1000"


def test_what_is_typed_beside_an_order_is_said_not_to_be_in_its_curves(client: TestClient) -> None:
    said = "is not counted in it"
    assert said in client.post("/orders/review", data={**HIGH, "with": "meropenem 1 g"}).text
    assert said not in client.post("/orders/review", data=HIGH).text


def test_an_order_that_cannot_be_followed_over_hours_says_what_it_takes(client: TestClient) -> None:
    page = client.post("/orders/review", data={"fluid": "0.9% sodium chloride"}).text
    assert not ahead_of(page) and "no rate is written" in page
