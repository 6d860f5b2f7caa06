"""The page "What will it do?": an address, no script needed, and not a row written."""

import re
from collections.abc import Iterator
from html import unescape

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import event

TYPED = "/predict?fluid=sodium-chloride-0.9&volume=1000&minutes=240&weight=70"
TWO = f"{TYPED}&fluid_b=lactated-ringers"


def text_of(html: str) -> str:
    words = unescape(re.sub(r"<[^>]+>", " ", html))
    return re.sub(r"\s+", " ", words)


def test_an_empty_page_says_how_to_begin(client: TestClient) -> None:
    answer = client.get("/predict")
    assert answer.status_code == 200
    assert "Pick a fluid, a volume, and minutes or a rate." in answer.text
    start = re.search(r'class="button" href="([^"]+)"', answer.text)
    assert start
    assert 'role="img"' in client.get(unescape(start[1])).text


def test_a_patient_alone_is_shown_what_their_running_order_will_do(client: TestClient) -> None:
    words = text_of(client.get("/predict?patient=bed-04").text)
    assert "Bed 04 · D.P." in words
    assert "0.9% sodium chloride + potassium chloride 20 mmol" in words
    assert "potassium 1.2 mmol/h" in words
    assert "Potassium measured 6.1 mmol/L, 05:35" in words


def test_a_curve_never_stands_without_what_the_rules_say(client: TestClient) -> None:
    html = client.get("/predict?patient=bed-04").text
    found = html.index("level-critical")
    assert found < html.index("curves-svg")
    typed = client.get(f"{TYPED}&potassium=40&result_potassium=6.2&age=50").text
    assert typed.index("level-critical") < typed.index("curves-svg")


def test_eleven_pictures_each_with_a_table_and_no_bare_middle(client: TestClient) -> None:
    html = client.get(TYPED).text
    assert html.count('role="img"') == html.count('class="figures curves-table"') == 11
    assert html.count("curves-band-alone") == html.count("curves-line-alone") == 11
    assert "style=" not in html


def test_what_is_assumed_and_not_modelled_and_the_usual_caution_are_said(
    client: TestClient,
) -> None:
    words = text_of(client.get(TYPED).text)
    for said in (
        "Supports your judgement, never replaces it.", "Assumed", "Not modelled",
        "10th to 90th percentile", "chloride 104 mmol/L (a usual value)", "By hand",
        "Limits of a day are for sodium that was under 130", "At a glance",
        "By strong ions", "By bicarbonate", "308 mOsm/L calculated",
    ):  # fmt: skip
        assert said in words


def test_two_fluids_are_told_apart_by_word_and_by_line(client: TestClient) -> None:
    html = client.get(TWO).text
    assert "curves-line-A" in html
    assert "curves-line-B" in html
    assert "B, broken line" in text_of(html)


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("&volume=1o", "Volume: “1o” is not accepted."),
        ("&patient=nobody", "Patient: “nobody” is not accepted."),
        ("&result_ph=7.4&result_sodium=300", "Sodium: “300” is not accepted."),
        ("&result_sodium=140&result_chloride=158", "Results: “"),
        ("&rate=10", "Over: “240 minutes” is not accepted."),
        ("&fluid_b=nonsuch", "Fluid B: “nonsuch” is not accepted."),
    ],
)
def test_what_is_not_accepted_is_named_and_nothing_is_drawn(
    client: TestClient, query: str, said: str
) -> None:
    base = TYPED.replace("&volume=1000", "") if "volume" in query else TYPED
    answer = client.get(base + query)
    assert answer.status_code == 422
    assert said in text_of(answer.text).replace(" :", ":")
    assert 'role="img"' not in answer.text


def test_markup_in_the_address_stays_text(client: TestClient) -> None:
    html = client.get("/predict?fluid=<script>x&volume=<script>x&patient=<script>x").text
    assert "<script>x" not in html


def test_each_part_is_its_piece_of_the_page(client: TestClient, htmx: TestClient) -> None:
    page = client.get(TWO).text
    for target in ("course", "predict"):
        part = htmx.get(TWO, headers={"HX-Target": target}).text
        assert part.startswith(f'<div id="{target}"')
        assert part.strip() in page


def test_a_child_without_a_weight_is_not_guessed_at(client: TestClient) -> None:
    answer = client.get("/predict?fluid=sodium-chloride-0.9&volume=100&minutes=60&age=3")
    assert answer.status_code == 422
    assert "a child's weight" in unescape(answer.text)


@pytest.fixture
def written(app: FastAPI) -> Iterator[list[str]]:
    """Every statement sent to the database that is not a question."""
    sent: list[str] = []

    def note(_c: object, _cursor: object, statement: str, *_rest: object) -> None:
        if not statement.lstrip().upper().startswith(("SELECT", "PRAGMA", "BEGIN")):
            sent.append(statement)

    event.listen(app.state.engine, "before_cursor_execute", note)
    yield sent
    event.remove(app.state.engine, "before_cursor_execute", note)


LOW = "/predict?fluid=sodium-chloride-3&volume=800&minutes=480&weight=60&result_sodium=116"


def test_a_fast_rise_says_the_limit_the_next_sample_and_what_to_do(client: TestClient) -> None:
    words = text_of(client.get(f"{LOW}&alcohol=1").text)
    for said in (
        "It is likely to pass +8 in 24 h (124)", "Sodium again in 2 h", "stop this fluid",
        "150 mL over 20 min", "High risk (alcohol dependence)", "settings of this unit",
    ):  # fmt: skip
        assert said in words
    acute = text_of(client.get(f"{LOW}&alcohol=1&onset=acute").text)
    assert "only the highest limit is kept" in acute
    assert "+8 in 24 h" not in acute


def test_a_typed_person_is_looked_at_by_the_rules_with_what_was_ticked(client: TestClient) -> None:
    html = client.get(f"{LOW}&alcohol=1&age=50").text
    assert 'href="/rules/na-rise-forecast">Sodium 116 mmol/L may rise' in html


def test_what_is_written_in_the_folded_part_opens_it_and_is_kept(client: TestClient) -> None:
    assert '<details class="predict-more">' in client.get(TYPED).text
    answer = client.get(f"{TYPED}&gastric=5o&shock=1&breathing=responds&urine_sodium=20")
    assert answer.status_code == 422
    assert '<details class="predict-more" open>' in answer.text
    assert 'name="gastric" inputmode="decimal" value="5o"' in answer.text
    assert 'name="shock" value="1" checked' in answer.text
    assert '<option value="responds" selected>' in answer.text


def test_urine_alone_says_that_drinking_is_not_counted(client: TestClient) -> None:
    words = text_of(client.get(f"{TYPED}&urine=150&urine_sodium=20").text)
    assert "Urine is counted as 150 mL/h throughout, with sodium 20 mmol/L." in words
    assert "Drinking and other fluids are not counted" in words
    assert "Drinking and other fluids" not in text_of(client.get(TYPED).text)


def test_what_else_runs_in_a_patient_is_named_or_left_out(client: TestClient) -> None:
    beds = [f"bed-{n:02}" for n in range(1, 25)]
    pages = {bed: client.get(f"/predict?patient={bed}").text for bed in beds}
    running = {bed for bed, html in pages.items() if "What else runs:" in html}
    assert running
    for bed in sorted(running)[:2]:
        assert "What else runs:" not in client.get(f"/predict?patient={bed}&others=left-out").text


def test_a_hundred_what_ifs_write_nothing(client: TestClient, written: list[str]) -> None:
    for rate in range(10, 110):
        query = f"patient=bed-04&fluid=sodium-chloride-0.9&volume=500&rate={rate}&horizon=4"
        assert client.get(f"/predict?{query}").status_code == 200
    assert written == []


@pytest.mark.parametrize(
    "path",
    [
        "/patients/bed-04",
        "/compare?fluid=sodium-chloride-0.9&patient=bed-04",
        "/orders/new?patient=bed-04&fluid=0.9%25+sodium+chloride&volume=1000&rate=100",
        "/orders/new?fluid=0.9%25+sodium+chloride&volume=1000&rate=100",
    ],
)
def test_other_pages_lead_here_with_what_they_show(client: TestClient, path: str) -> None:
    link = re.search(r'href="(/predict[^"]*\?[^"]+)"', client.get(path).text)
    assert link
    answer = client.get(unescape(link[1]))
    assert answer.status_code == 200
    assert 'role="img"' in answer.text
    told = re.split(r'id="(?:course|ahead)"', answer.text)[-1]
    assert ("Bed 04" in told) == ("bed-04" in path)
