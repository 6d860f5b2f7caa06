"""The hazard log can be read and taken away, says what it is worth, and what is open."""

import csv
import io
import re
from dataclasses import replace

import pytest
from fastapi.testclient import TestClient

from app.review.hazards.hazard import HazardLog
from app.review.hazards.shipped import shipped_log
from app.web.audit.hazards import COLUMNS, hazards_page


def test_every_hazard_is_on_the_page_with_its_controls(client: TestClient) -> None:
    page = client.get("/hazards").text
    for hazard in shipped_log().hazards:
        assert f'<h3 id="{hazard.id}">' in page
        for rule in hazard.rules():
            assert f'href="/rules/{rule}"' in page
        for test in hazard.tests():
            assert test.replace("'", "&#39;") in page


def test_the_page_says_who_has_not_reviewed_it(client: TestClient) -> None:
    page = client.get("/hazards").text
    assert "No clinical safety officer has reviewed this log." in page
    assert "claim conformity with no standard" in page


def test_what_is_open_comes_first_with_the_highest_risk(client: TestClient) -> None:
    view = hazards_page(shipped_log())
    risks = [row.after.product for row in view.open]
    assert risks == sorted(risks, reverse=True)
    assert {row.state for row in view.open} == {"open"}
    page = client.get("/hazards").text
    assert page.index("Known open") < page.index('id="log-head"')


@pytest.mark.parametrize("state", ["open", "reduced", "closed", "any"])
def test_a_state_chooses_its_hazards_and_none_chooses_all(client: TestClient, state: str) -> None:
    page = client.get(f"/hazards?state={state}").text
    log = shipped_log()
    wanted = [h.id for h in log.hazards if h.state == state or state == "any"]
    assert re.findall(r'<h3 id="([^"]+)">', page) == wanted


def test_risks_are_told_in_the_words_of_the_scale() -> None:
    log = shipped_log()
    hazard = replace(log.hazards[0], severity=5, before=4, after=2)
    (row,) = hazards_page(HazardLog(log.scale, (hazard,))).rows
    assert (row.before.product, row.before.band) == (20, "high")
    assert (row.after.severity, row.after.likelihood, row.after.product) == ("death", "rare", 10)


def test_the_log_as_a_sheet_has_a_row_a_hazard(client: TestClient) -> None:
    answer = client.get("/hazards.csv")
    rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
    assert tuple(rows[0]) == COLUMNS
    assert [row["id"] for row in rows] == [hazard.id for hazard in shipped_log().hazards]
    assert answer.headers["content-disposition"] == 'attachment; filename="hazards.csv"'


def test_the_log_as_data_says_what_it_is_worth(client: TestClient) -> None:
    told = client.get("/hazards.json").json()
    assert "No clinical safety officer" in told["note"]
    assert len(told["hazards"]) == len(shipped_log().hazards)
    assert len(told["scale"]["severity"]) == 5


def test_about_leads_to_it_and_names_what_is_open(client: TestClient) -> None:
    page = client.get("/about").text
    assert 'href="/hazards"' in page
    gravest = shipped_log().known_open()[0]
    assert f'href="/hazards#{gravest.id}"' in page
    assert (
        f"{len(shipped_log().known_open())} of {len(shipped_log().hazards)} known hazards" in page
    )
