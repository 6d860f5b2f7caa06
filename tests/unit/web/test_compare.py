"""The compare page: one link, no script needed, every wrong word named."""

import re
from html import unescape

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.review.workflow import review_patient
from app.storage.database import reading
from app.web.compare import MOST_FOUND, compare_page
from app.web.comparison.asked import Asked
from tests.unit.web.conftest import Tell

TWO = "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers"


def text_of(html: str) -> str:
    """The words of a page, without its tags."""
    words = unescape(re.sub(r"<[^>]+>", " ", html))
    return re.sub(r"\s+", " ", words).replace(" :", ":")


def test_two_fluids_stand_beside_plasma(client: TestClient) -> None:
    answer = client.get(TWO)
    assert answer.status_code == 200
    words = text_of(answer.text)
    for word in ("Plasma, adult", "0.9% sodium chloride", "Lactated Ringer's (US)", "none"):
        assert word in words


def test_an_empty_page_says_how_to_begin(client: TestClient) -> None:
    answer = client.get("/compare")
    assert answer.status_code == 200
    assert "Nothing to compare yet" in answer.text
    assert 'href="/compare?fluid=sodium-chloride-0.9' in answer.text


def test_one_fluid_asks_for_another(client: TestClient) -> None:
    assert "Add another to compare it with" in client.get("/compare?fluid=ringers-injection").text


def test_the_ion_columns_are_drawn_with_a_word_for_each_block(client: TestClient) -> None:
    html = client.get(TWO).text
    assert html.count('role="img"') == 3
    assert "<title>calcium 1.35 mmol/L = 2.7 mEq/L</title>" in html
    assert "style=" not in html


@pytest.mark.parametrize(
    ("query", "field", "value"),
    [
        ("fluid=nonsuch", "Fluid", "nonsuch"),
        ("rate=12o", "Rate", "12o"),
        ("weight=-3", "Weight", "-3"),
        ("bag=0", "Bag", "0"),
        ("patient=nobody", "Patient", "nobody"),
        ("show=week", "Show", "week"),
    ],
)
def test_bad_input_is_named_and_the_rest_still_works(
    client: TestClient, query: str, field: str, value: str
) -> None:
    answer = client.get(f"{TWO}&{query}")
    assert answer.status_code == 422
    words = text_of(answer.text)
    assert re.search(rf"{field}: “{value}” is not accepted. Accepted: \S", words)
    assert "Lactated Ringer's (US)" in words


def test_more_than_six_fluids_show_six_and_say_so(client: TestClient, app: FastAPI) -> None:
    ids = [fluid.id for fluid in app.state.knowledge.catalogue][:7]
    answer = client.get("/compare?" + "&".join(f"fluid={fluid_id}" for fluid_id in ids))
    assert answer.status_code == 422
    assert "at most 6 fluids" in answer.text
    assert answer.text.count('class="chosen-away"') == 6


def test_what_was_typed_is_kept(client: TestClient) -> None:
    assert 'value="12o"' in client.get(f"{TWO}&rate=12o").text


def test_markup_in_the_address_stays_text(client: TestClient) -> None:
    assert "<script>x" not in client.get("/compare?fluid=<script>x&find=<script>x").text


def test_searching_offers_links_that_add(client: TestClient) -> None:
    html = client.get(f"{TWO}&find=no calcium").text
    offers = re.findall(r'<a class="found-add" href="([^"]+)"', html)
    assert 0 < len(offers) <= MOST_FOUND
    assert all("fluid=sodium-chloride-0.9" in offer for offer in offers)


def test_a_fluid_already_here_is_not_offered_again(client: TestClient) -> None:
    assert "already here" in client.get(f"{TWO}&find=lactated ringer's").text


def test_a_search_that_finds_nothing_says_what_to_do(client: TestClient) -> None:
    assert "Try a shorter word" in client.get(f"{TWO}&find=qqqqzzzz").text


def test_each_part_equals_its_piece_of_the_page(client: TestClient, htmx: TestClient) -> None:
    address = f"{TWO}&find=ringer"
    page = client.get(address).text
    for target in ("comparison", "found"):
        part = htmx.get(address, headers={"HX-Target": target}).text
        assert part.startswith(f'<div id="{target}"')
        assert part.strip() in page


def test_going_back_in_history_gets_the_whole_page(htmx: TestClient) -> None:
    html = htmx.get(TWO, headers={"HX-History-Restore-Request": "true"}).text
    assert html.startswith("<!doctype html>")


def test_a_patient_s_results_and_cautions_stand_beside_the_fluids(client: TestClient) -> None:
    html = client.get(f"{TWO}&patient=bed-07").text
    words = text_of(html)
    assert "In this patient" in words
    assert "Nothing is saved." in words
    assert " old" in words
    assert "This patient" in words


def test_the_link_to_share_names_no_patient(client: TestClient) -> None:
    html = client.get(f"{TWO}&patient=bed-07").text
    link = re.search(r'<a href="([^"]+)">Link to this comparison, without a patient', html)
    assert link
    assert "bed-07" not in link[1]


def test_trying_fluids_on_a_patient_changes_nothing(client: TestClient, app: FastAPI) -> None:
    def orders() -> object:
        with reading(app.state.engine) as session:
            bedside = review_patient(session, app.state.knowledge, "bed-07")
        assert bedside is not None
        return bedside.request

    before = orders()
    client.get(f"{TWO}&patient=bed-07&rate=80")
    assert orders() == before


def test_a_child_is_not_given_an_adult_s_need(client: TestClient) -> None:
    words = text_of(client.get(f"{TWO}&patient=bed-20&show=day").text)
    assert "Needs are shown for adults only." in words
    assert "Need a day" not in words


def test_a_day_without_a_weight_says_what_is_not_shown(client: TestClient) -> None:
    assert "No weight" in client.get(f"{TWO}&show=day").text


def test_a_day_at_70_kg_shows_the_need(client: TestClient) -> None:
    words = text_of(client.get(f"{TWO}&show=day&weight=70&rate=100").text)
    for word in ("369 .6", "5.28 per kg", "about 70 mmol"):
        assert word in words


def test_differences_only_says_what_it_folded(client: TestClient) -> None:
    words = text_of(client.get(f"{TWO}&differences=1").text)
    assert "The same in all fluids, so folded: " in words
    assert "Show every row" in words


def test_formulas_are_one_click_away_with_the_numbers(client: TestClient) -> None:
    html = client.get(TWO).text
    assert "<details>" in html
    assert "130 + 4 + 2 × 1.35 − 109 = 27.7" in html


def test_sources_say_whether_their_text_was_seen(client: TestClient) -> None:
    words = text_of(client.get(TWO).text)
    assert "text seen" in words
    assert "from memory" in words
    assert "No clinician has reviewed these figures" in words


def test_a_page_for_nobody_has_no_cautions(app: FastAPI) -> None:
    page = compare_page(Asked(), None, (), app.state.knowledge)
    assert page.what_if is None
    assert page.patient == ""


def test_a_fluid_that_is_out_is_marked_where_it_is_chosen_and_over_its_figures(
    ward: TestClient, tell: Tell
) -> None:
    assert "stock-gone" not in ward.get(TWO).text
    tell("lactated-ringers", "out")
    marked = '<span class="stock-tag stock-gone">out since 07:05</span>'
    assert ward.get(TWO).text.count(marked) == 3
    assert marked in ward.get("/compare?find=lactated").text


def test_an_open_comparison_is_drawn_anew_when_stock_changes(client: TestClient) -> None:
    root = re.search(r'<div id="comparison"[^>]*>', client.get(TWO).text)
    assert root
    assert 'hx-trigger="stock-changed from:body"' in root[0]
    assert f'hx-get="{TWO.replace("&", "&amp;")}"' in root[0]


def test_the_first_two_are_followed_over_hours_in_place_of_the_first_order(
    client: TestClient,
) -> None:
    page = client.get(f"{TWO}&fluid=glucose-5&patient=bed-04").text
    (asked,) = re.findall(r'hx-get="(/predict/ahead[^"]+)"', page)
    assert "fluid=sodium-chloride-0.9&amp;fluid_b=lactated-ringers" in asked
    assert "patient=bed-04" in asked and "instead=o1" in asked and "glucose-5" not in asked
    assert "What the first two would do" in page


def test_with_nobody_chosen_they_are_followed_in_the_weight_typed(client: TestClient) -> None:
    assert "&amp;weight=62" in client.get(f"{TWO}&weight=62").text
    assert "weight=" not in re.findall(r'hx-get="(/predict/ahead[^"]+)"', client.get(TWO).text)[0]
