"""One patient's page: what is known and since when, and what is not."""

import re
from datetime import UTC, datetime

from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.review.workflow import Bedside, review_request
from app.web.patients import PatientPage, patient_page

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def page_of(app: FastAPI, **patient: object) -> PatientPage:
    """The page of a patient with one plain order and these facts."""
    request = {
        "patient": {"age_years": 61, "weight_kg": 70, **patient},
        "orders": [
            {"id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 125,
             "lumen": "left hand"},
        ],
        "co_infusions": [{"name": "ceftriaxone", "kind": "drug", "lumen": "left hand"}],
    }  # fmt: skip
    review = review_request(request, app.state.knowledge, now=NOW)
    return patient_page(Bedside("p1", "07", "M.K.", request, review), app.state.knowledge)


def potassium(value: float, taken: str) -> dict[str, object]:
    return {"name": "potassium", "value": value, "unit": "mmol/L", "taken_at": taken}


def test_every_demo_patient_has_a_page(client: TestClient) -> None:
    addresses = set(re.findall(r'href="(/patients/[^"]+)"', client.get("/").text))
    assert len(addresses) == 25
    assert {client.get(address).status_code for address in addresses} == {200}


def test_a_patient_who_is_not_there_is_told_plainly(client: TestClient) -> None:
    answer = client.get("/patients/nobody")
    assert answer.status_code == 404
    assert "No such patient" in answer.text


def test_a_result_has_its_time_its_age_and_the_one_before(app: FastAPI) -> None:
    results = [potassium(5.9, "2031-03-04T05:30:00Z"), potassium(5.1, "2031-03-03T17:00:00Z")]
    (row,) = page_of(app, observations=results).results
    assert str(row.value) == "5.9"
    assert (row.at, row.age) == ("05:30", "1 h 30 min")
    assert row.before == "5.1, 14 h"
    assert row.state == ""


def test_a_stale_result_is_called_stale(app: FastAPI) -> None:
    (row,) = page_of(app, observations=[potassium(4.1, "2031-03-02T22:00:00Z")]).results
    assert row.state == "stale"


def test_a_result_that_cannot_be_is_shown_as_written_and_not_used(app: FastAPI) -> None:
    (row,) = page_of(app, observations=[potassium(61, "2031-03-04T05:30:00Z")]).results
    assert row.state == "not used"
    assert "61" in str(row.value)
    assert row.doubt


def test_what_is_missing_comes_in_the_order_of_what_it_could_change(client: TestClient) -> None:
    missing = client.get("/patients/bed-23").text.split('<ul class="missing">')[1]
    assert "so not ruled out: " in missing
    assert missing.index('"tag">critical') < missing.index('"tag">info')


def test_what_is_not_known_of_the_patient_says_so(app: FastAPI) -> None:
    facts = dict(page_of(app, weight_kg=None).facts)
    assert facts["Weight"] == "not known"
    assert facts["Sex"] == "not known"


def test_words_that_were_not_understood_stay_in_sight(app: FastAPI) -> None:
    view = page_of(app, conditions=["acute kidney injury stage 3", "xyzzy"])
    taken = {one.written: one.taken_for for one in view.conditions}
    assert "severe kidney failure" in taken["acute kidney injury stage 3"]
    assert taken["xyzzy"] == ""


def test_a_line_lists_all_that_runs_by_it(app: FastAPI) -> None:
    (line,) = page_of(app, access=[{"id": "left hand", "site": "peripheral"}]).lines
    assert line.site == "peripheral"
    assert "0.9% sodium chloride" in line.runs
    assert "ceftriaxone" in line.runs


def test_the_bag_is_told_per_litre_and_each_hour(app: FastAPI) -> None:
    (order,) = page_of(app).orders
    sodium = next(row for row in order.bag.rows if row.name == "Sodium")
    assert (str(sodium.per_litre), str(sodium.each_hour)) == ("154", "19.25")
    assert order.bag.absent == "potassium or calcium or magnesium"


def test_a_page_links_to_an_order_for_this_patient(client: TestClient) -> None:
    assert 'href="/orders/new?patient=bed-07"' in client.get("/patients/bed-07").text


def test_a_page_leads_to_what_runs_compared_for_this_patient_and_to_its_card(app: FastAPI) -> None:
    view = page_of(app)
    assert view.compare == "/compare?fluid=sodium-chloride-0.9&patient=p1"
    assert view.orders[0].fluid_id == "sodium-chloride-0.9"


def test_a_result_whose_time_is_not_known_claims_no_age(app: FastAPI) -> None:
    (row,) = page_of(
        app, observations=[{"name": "potassium", "value": 4, "unit": "mmol/L"}]
    ).results
    assert row.ago == ""


def test_a_running_fluid_that_is_out_says_so_beside_its_order(client: TestClient) -> None:
    page = client.get("/patients/bed-14").text
    said = "Multiple electrolytes type 1, pH 7.4 (acetate-gluconate): out since 05:40."
    assert said in page
    assert said not in client.get("/patients/bed-04").text


def test_each_order_is_followed_by_itself_and_all_that_runs_together(client: TestClient) -> None:
    page = client.get("/patients/bed-11").text
    parts = re.findall(
        r'<div id="(ahead|line)-([a-z0-9]+)"[^>]*hx-get="(/predict/ahead[^"]+)"', page
    )
    assert [f"{kind}-{place}" for kind, place, _ in parts] == [
        "ahead-all", "line-o1", "ahead-o1", "ahead-a1", "line-o2", "ahead-o2", "ahead-a2",
    ]  # fmt: skip
    by_itself = [place for _, place, address in parts if "others=left-out" in address]
    assert by_itself == ["a1", "a2"]
    assert page.index("What will all that runs do, together?") < page.index('id="line-o1"')


def test_an_older_result_stands_under_its_value(client: TestClient) -> None:
    page = client.get("/patients/bed-22").text
    assert re.search(r'patients-before"><td colspan="3">before: 1', page)


def test_an_order_alone_has_no_together(client: TestClient) -> None:
    assert client.get("/patients/bed-07").text.count('hx-get="/predict/ahead') == 1


def test_an_order_that_cannot_be_followed_says_why(client: TestClient) -> None:
    page = client.get("/patients/bed-24").text
    assert "What it will do is not told." in page and "may mean 5 fluids" in page
