"""One address gives a page or its part; the look is kept; nobody is sent elsewhere."""

import pytest
from fastapi.testclient import TestClient
from jinja2 import UndefinedError

from app.web.render import own_address, pages


def test_a_typing_error_in_a_template_is_an_error_and_no_blank() -> None:
    with pytest.raises(UndefinedError):
        pages.from_string("{{ view.not_there }}").render(view=object())


def test_what_people_type_is_never_markup() -> None:
    assert pages.from_string("{{ x }}").render(x="<b>") == "&lt;b&gt;"


def test_a_sentence_begins_without_making_short_forms_small() -> None:
    begun = pages.from_string("{{ x|opening }}").render(x="most without ECG monitoring")
    assert begun == "Most without ECG monitoring"


def test_a_page_is_never_kept_by_browser_or_proxy(client: TestClient) -> None:
    headers = client.get("/").headers
    assert headers["cache-control"] == "no-store"
    assert headers["vary"] == "HX-Request"


def test_every_page_carries_the_usual_caution_and_the_places(client: TestClient) -> None:
    page = client.get("/").text
    assert "never replaces it" in page
    assert 'href="/" aria-current="page"' in page


def test_going_back_in_history_gets_the_whole_page(client: TestClient) -> None:
    headers = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    assert client.get("/", headers=headers).text.startswith("<!doctype html>")


def test_a_chosen_look_is_kept_and_leads_back_to_the_page(client: TestClient) -> None:
    sent = {"look": "night", "back": "/compare"}
    answer = client.post("/look", data=sent, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/compare"
    assert 'data-look="night"' in client.get("/").text


def test_a_look_chosen_on_a_reviewed_order_leads_back_to_the_order_page(
    client: TestClient,
) -> None:
    page = client.post("/orders/review", data={"fluid": "0.9% sodium chloride"}).text
    assert 'name="back" value="/orders/new"' in page


def test_a_look_chosen_on_a_shared_link_keeps_the_link(client: TestClient) -> None:
    page = client.get("/orders/new?fluid=x&rate=5").text
    assert 'name="back" value="/orders/new?fluid=x&amp;rate=5"' in page


def test_an_unknown_look_is_the_screens_own(client: TestClient) -> None:
    client.post("/look", data={"look": "<script>"})
    assert 'data-look="auto"' in client.get("/").text


@pytest.mark.parametrize(
    ("address", "ours"),
    [
        ("/patients/7", "/patients/7"),
        ("/compare?fluid=a&fluid=b", "/compare?fluid=a&fluid=b"),
        ("https://elsewhere.example/x", "/"),
        ("//elsewhere.example", "/"),
        ("/\\elsewhere.example", "/"),
        ("", "/"),
        ("javascript:alert(1)", "/"),
    ],
)
def test_after_choosing_a_look_nobody_is_sent_to_another_site(address: str, ours: str) -> None:
    assert own_address(address) == ours
