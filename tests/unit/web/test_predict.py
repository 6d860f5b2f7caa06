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
    assert "0.9% sodium chloride + potassium chloride 13.3" in words
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
    assert "Weight: needed for a child, kg." in text_of(answer.text)


def test_a_small_person_without_an_age_is_asked_for_it(client: TestClient) -> None:
    bag = "/predict?fluid=dextrose-10&volume=300&minutes=1440&weight=3"
    answer = client.get(bag)
    assert answer.status_code == 422
    assert "Age: needed under 35 kg" in text_of(answer.text)
    assert "in an adult" not in answer.text
    newborn = text_of(client.get(f"{bag}&age=0.01").text)
    assert "in an adult" not in newborn


def test_what_nobody_measured_is_said_to_be_assumed_wherever_it_stands(
    client: TestClient,
) -> None:
    html = client.get(TYPED).text
    words = text_of(html)
    assert "Typed: weight. Assumed: sodium, potassium, chloride" in words
    assert "4.2 assumed now" in html
    assert re.search(r"4\.2 <span class=\"glance-basis\">assumed</span>", html)
    assert html.count("curves-assumed") >= 8
    known = client.get(f"{TYPED}&result_potassium=4.2").text
    assert "4.2 assumed" not in text_of(known)


def test_what_a_rule_asks_for_is_not_drawn_without_a_result(client: TestClient) -> None:
    html = client.get(f"{TYPED}&potassium=20&urine=0&kidneys=1&age=50").text
    assert "Potassium: no result, and severe kidney failure is on record." in text_of(html)
    assert 'id="potassium_mmol_l-head"' not in html
    measured = client.get(f"{TYPED}&potassium=20&urine=0&kidneys=1&age=50&result_potassium=4").text
    assert 'id="potassium_mmol_l-head"' in measured


@pytest.mark.parametrize(
    ("said", "series", "words"),
    [
        ("hyponatraemia", "sodium_mmol_l", "Sodium"),
        ("hypernatraemia", "sodium_mmol_l", "Sodium"),
        ("diabetic_ketoacidosis", "bicarbonate_mmol_l", "icarbonate"),
        ("diabetic_ketoacidosis", "glucose_mmol_l", "lucose"),
    ],
)
def test_what_is_on_record_and_contradicts_a_usual_value_leaves_it_undrawn(
    client: TestClient, said: str, series: str, words: str
) -> None:
    html = client.get(f"{TYPED}&said={said}").text
    assert f'id="{series}-head"' not in html
    assert re.search(rf"{words}.*{said.replace('_', ' ')} is on record\. Not predicted\.", html)


def test_an_order_that_cannot_be_tried_says_why(client: TestClient) -> None:
    words = text_of(client.get("/predict?patient=bed-24").text)
    assert "What is ordered cannot be tried as it is:" in words
    assert "may mean" in words


def test_a_short_bag_is_looked_at_closely_and_a_day_only_where_sodium_asks(
    client: TestClient,
) -> None:
    bag = "/predict?fluid=lactated-ringers&volume=250&minutes=5&weight=70"
    assert "at 4 h" in client.get(bag).text
    assert "at 24 h" in client.get(f"{bag}&result_sodium=112").text


def test_a_glucose_given_fast_is_told_at_the_end_of_its_bag(client: TestClient) -> None:
    """50 mL of 50% dextrose in 5 min: a step at its end whatever is looked ahead."""
    bag = "/predict?fluid=dextrose-50&volume=50&minutes=5&weight=70&result_glucose=5"
    found = []
    for horizon in ("4", "24"):
        html = client.get(f"{bag}&horizon={horizon}").text
        row = html[html.index("Glucose <span") :]
        figure = re.search(r'data-at="5 min"><b>([\d.]+)</b>', row)
        assert figure
        found.append(float(figure[1]))
    assert found[0] == pytest.approx(found[1], rel=0.15)


def test_insulin_that_is_typed_is_counted_and_unknown_insulin_leaves_both_undrawn(
    client: TestClient,
) -> None:
    ill = f"{TYPED}&age=40&result_potassium=4.1&result_glucose=22"
    counted, unknown = client.get(f"{ill}&insulin=6").text, client.get(f"{ill}&insulin_runs=1").text
    assert "While insulin runs, potassium and glucose again" in counted
    assert "Potassium and glucose: insulin runs and is not counted here." in text_of(unknown)
    assert 'id="glucose_mmol_l-head"' not in unknown


def test_a_low_glucose_is_drawn_for_an_hour_and_no_further(client: TestClient) -> None:
    html = client.get("/predict?fluid=dextrose-50&volume=50&minutes=5&weight=70&result_glucose=1.8")
    words = text_of(html.text)
    assert "not drawn from 1 h on: a low glucose has no value to come to rest at" in words
    assert "not drawn" in words


def test_what_nobody_lives_in_is_said_first_and_not_drawn(client: TestClient) -> None:
    bag = "/predict?fluid=sodium-chloride-3&volume=10000&minutes=240&weight=70&age=40"
    words = text_of(client.get(f"{bag}&result_sodium=140").text)
    assert re.search(
        r"critical By the prediction: Sodium from .* past this nobody lives long", words
    )


def test_on_a_wall_one_sentence_and_two_pictures_come_first(client: TestClient) -> None:
    client.cookies.set("look", "projector")
    html = client.get(TWO.replace("volume=1000", "volume=2000")).text
    wall = html[html.index('id="wall"') : html.index('class="predict-rest"')]
    assert wall.count("<svg") == 2
    assert re.search(
        r"2,000 mL in 4 h: chloride \+\d.* with 0.9% sodium chloride, .* with lactated Ringer",
        unescape(wall),
    )
    assert wall.count("curves-name") == 4


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
        "Sodium is likely to pass +8 in 24 h (124)", "Sodium again in 2 h", "stop this fluid",
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
    # Only that somebody was there is written down.
    assert [line for line in written if not line.startswith("UPDATE signed_in SET seen_at")] == []


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


def test_on_a_wall_what_is_critical_stands_before_the_pictures(client: TestClient) -> None:
    client.cookies.set("look", "projector")
    html = client.get(f"{TYPED}&potassium=40&result_potassium=6.2&age=50").text
    wall = html[html.index('id="wall"') : html.index('class="predict-rest"')]
    assert wall.index("level-critical") < wall.index("<svg")
    assert "Supports your judgement" in wall
