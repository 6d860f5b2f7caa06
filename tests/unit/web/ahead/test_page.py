"""GET /predict/ahead."""

import logging
import re
from html import unescape

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import event

BOTH = "/predict/ahead?fluid=sodium-chloride-0.9&fluid_b=lactated-ringers&volume=1000&rate=250"
ASKS = re.compile(r'hx-get="(/predict/ahead\?[^"]+)"')
ORDER = "/orders/new?patient=bed-04&fluid=0.9%25+sodium+chloride&volume=1000&rate=100"


def asked_by(page: str) -> list[str]:
    """The addresses that a page's places ask."""
    return [unescape(address) for address in ASKS.findall(page)]


def test_htmx_gets_the_part_and_a_browser_without_script_the_page(
    client: TestClient, htmx: TestClient
) -> None:
    part, page = htmx.get(BOTH), client.get(BOTH)
    assert part.status_code == page.status_code == 200
    assert part.text.lstrip().startswith('<div id="ahead"')
    assert page.text.lstrip().startswith("<!doctype html>")
    assert page.text.count('class="caution-notice"') == 1
    assert "caution-notice" not in part.text


def test_two_fluids_lie_on_the_same_axes(htmx: TestClient) -> None:
    text = htmx.get(BOTH).text
    pictures = text.count("<svg")
    assert 3 <= pictures <= 4
    assert text.count("curves-line-A") == text.count("curves-line-B") == pictures


def test_the_part_has_the_id_of_the_place_that_asks(htmx: TestClient) -> None:
    text = htmx.get(BOTH, headers={"HX-Target": "ahead-o2"}).text
    assert text.lstrip().startswith('<div id="ahead-o2"')


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ("fluid=sodium-chloride-0.9&volume=lots&rate=100", "Volume"),
        ("fluid=moondust&volume=500&rate=100", "Fluid A"),
        ("volume=500&rate=100", "Fluid A"),
        ("fluid=sodium-chloride-0.9&volume=500&rate=100&patient=bed-99", "Patient"),
        ("fluid=sodium-chloride-0.9&volume=500&rate=100&age=3", "Weight"),
        ("fluid=sodium-chloride-0.9&volume=500&rate=100&horizon=7", "Look ahead"),
    ],
)
def test_what_is_not_accepted_is_named(htmx: TestClient, query: str, field: str) -> None:
    answer = htmx.get(f"/predict/ahead?{query}")
    assert answer.status_code == 422
    assert f"<b>{field}:</b>" in answer.text and "<svg" not in answer.text


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "%00", "é" * 300, "1e999", "nan"])
@pytest.mark.parametrize("name", ["fluid", "volume", "rate", "instead", "others", "patient"])
def test_nothing_typed_is_our_fault(htmx: TestClient, name: str, text: str) -> None:
    fields = {"fluid": "glucose-5", "volume": "500", "rate": "100", name: text}
    answer = htmx.get("/predict/ahead", params=fields)
    assert answer.status_code in (200, 422)
    assert "<script>" not in answer.text


def test_looking_writes_nothing(app: FastAPI, client: TestClient, htmx: TestClient) -> None:
    written: list[str] = []

    def note(*args: object) -> None:
        if not str(args[2]).lstrip().upper().startswith(("SELECT", "PRAGMA", "BEGIN")):
            written.append(str(args[2]))

    event.listen(app.state.engine, "before_cursor_execute", note)
    for n in range(1, 25):
        address = f"/predict/ahead?fluid=glucose-5&volume={100 * n}&rate=500&horizon=4"
        answer = (htmx if n % 2 else client).get(f"{address}&patient=bed-{n:02}")
        assert answer.status_code == 200
    event.remove(app.state.engine, "before_cursor_execute", note)
    # Only that somebody was there is written down.
    assert [one for one in written if not one.startswith("UPDATE signed_in SET seen_at")] == []


def test_no_patient_stands_in_the_logs(htmx: TestClient, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.DEBUG, logger="app"):
        htmx.get(f"{BOTH}&patient=bed-04")
        htmx.get(f"{BOTH}&result_sodium=119")
    said = [r.getMessage() for r in caplog.records if r.name.startswith(("app", "uvicorn"))]
    assert not [line for line in said if "bed-04" in line or "119" in line]


def test_every_page_that_shows_it_asks_for_what_can_be_told(
    client: TestClient, htmx: TestClient
) -> None:
    pages = [
        ORDER,
        ORDER.replace("patient=bed-04&", ""),
        "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers",
        "/compare?fluid=glucose-5&patient=bed-11",
        "/patients/bed-11",
    ]
    for page in pages:
        addresses = asked_by(client.get(page).text)
        assert addresses, page
        for address in addresses:
            assert htmx.get(address).status_code == 200, address


def test_each_place_has_an_ordinary_link_to_the_same(client: TestClient) -> None:
    for page in (ORDER, "/compare?fluid=glucose-5", "/patients/bed-11"):
        text = client.get(page).text
        for address in ASKS.findall(text):
            assert f'href="{address}"' in text


def test_every_demo_patient_s_orders_are_told_or_it_is_said_why_not(
    client: TestClient, htmx: TestClient
) -> None:
    for n in range(1, 25):
        text = client.get(f"/patients/bed-{n:02}").text
        addresses = asked_by(text)
        assert addresses or "What it will do is not told." in text
        for address in addresses:
            assert htmx.get(address).status_code == 200, address
