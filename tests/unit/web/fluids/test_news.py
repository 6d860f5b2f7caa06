"""Open pages hear what was told of stock, each thing once."""

import re

import pytest
from fastapi.testclient import TestClient
from httpx import Response

from app.catalogue.stock.stock import Stock
from app.web.fluids.news import News, news_of
from tests.unit.web.conftest import HTMX, Tell

PAGES = ("/", "/patients/bed-04", "/orders/new", "/compare", "/catalogue", "/catalogue/dextrose-5")
ASKS = re.compile(r'id="news"[^>]*hx-get="([^"]+)" hx-trigger="every 30s"')


def asks(html: str) -> str:
    """The address a page asks for news."""
    found = ASKS.search(html)
    assert found
    return found[1].replace("&amp;", "&")


def ask(ward: TestClient, address: str, page: str = "/") -> Response:
    return ward.get(address, headers={**HTMX, "HX-Current-URL": f"http://testserver{page}"})


@pytest.mark.parametrize("page", PAGES)
def test_every_page_that_names_fluids_asks_every_half_minute_and_hears_of_a_change(
    ward: TestClient, tell: Tell, page: str
) -> None:
    address = asks(ward.get(page).text)
    assert ask(ward, address).status_code == 204
    tell("dextrose-5", "out")
    heard = ask(ward, address)
    assert heard.status_code == 200
    assert heard.headers["hx-trigger"] == "stock-changed"
    assert heard.text.startswith('<div id="news"')
    assert "5% dextrose (US)</a>: <b>out since 07:05</b>. Lorry late." in heard.text


def test_what_was_heard_is_not_said_again_and_the_next_change_is_added(
    ward: TestClient, tell: Tell
) -> None:
    first = asks(ward.get("/").text)
    tell("dextrose-5", "out")
    second = asks(ask(ward, first).text)
    assert ask(ward, second).status_code == 204
    tell("dextrose-10", "short")
    heard = ask(ward, second).text
    assert "5% dextrose (US)" in heard
    assert "10% dextrose (US)" in heard


def test_a_page_opened_after_the_change_has_no_news(ward: TestClient, tell: Tell) -> None:
    tell("dextrose-5", "out")
    page = ward.get("/").text
    assert "Stock has changed" not in page
    assert ask(ward, asks(page)).status_code == 204


def test_a_fluid_of_which_nobody_tells_any_more_is_news(ward: TestClient, tell: Tell) -> None:
    address = asks(ward.get("/").text)
    tell("sodium-chloride-0.9", "not told", "")
    assert "nobody tells any more where it is" in ask(ward, address).text


@pytest.mark.parametrize(
    ("page", "again"),
    [
        ("/compare?fluid=dextrose-5&rate=80", "/compare?fluid=dextrose-5&amp;rate=80"),
        ("/patients/bed-04", "/patients/bed-04"),
        ("//elsewhere.example/x", "/"),
    ],
)
def test_looking_again_leads_back_to_the_page_that_asked(
    ward: TestClient, tell: Tell, page: str, again: str
) -> None:
    tell("dextrose-5", "out")
    assert f'<a href="{again}">Look again</a>' in ask(ward, "/stock/news", page).text


@pytest.mark.parametrize("page", ["/orders/new", "/orders/review"])
def test_the_order_page_looks_again_by_itself_so_that_nothing_typed_is_lost(
    ward: TestClient, tell: Tell, page: str
) -> None:
    tell("dextrose-5", "out")
    assert "Look again" not in ask(ward, "/stock/news", page).text
    assert "stock-changed from:body" in ward.get("/orders/new").text


def test_an_address_that_cannot_be_read_gives_no_link(ward: TestClient, tell: Tell) -> None:
    tell("dextrose-5", "out")
    heard = ward.get("/stock/news", headers={**HTMX, "HX-Current-URL": "http://[broken"})
    assert heard.status_code == 200
    assert "Look again" not in heard.text


def test_a_browser_without_script_is_led_to_the_fluids(ward: TestClient) -> None:
    answer = ward.get("/stock/news", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/catalogue")
    assert "as it was when this page was opened" in ward.get("/").text


@pytest.mark.parametrize("query", ["seen=x", "seen=-1", "told=1.5"])
def test_a_number_that_is_none_is_refused(ward: TestClient, query: str) -> None:
    assert ask(ward, f"/stock/news?{query}").status_code == 422


def test_a_page_that_is_made_has_seen_all_that_is_told() -> None:
    assert news_of(Stock({}, last=7)) == News(seen=7, told=7)
