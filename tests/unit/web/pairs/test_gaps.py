"""The list of pairs that run here and nobody has told us of."""

import csv

from fastapi.testclient import TestClient

from app.review.pairs.gaps import Gap
from app.web.pairs.gaps import COLUMNS, as_csv

PATH = "/co-infusion/gaps"


def rows(client: TestClient) -> list[dict[str, str]]:
    answer = client.get(f"{PATH}.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    assert "attachment" in answer.headers["content-disposition"]
    return list(csv.DictReader(answer.text.splitlines()))


def test_the_list_has_hours_lumens_and_beds_and_leads_to_each_pair(client: TestClient) -> None:
    text = client.get(PATH).text
    assert "Paracetamol" in text
    assert 'href="/co-infusion?thing=paracetamol&amp;thing=sodium-chloride-0.9"' in text
    assert 'href="/patients/bed-11"' in text
    assert "Supports your judgement" in text


def test_the_file_says_the_same_without_a_word_of_any_patient(client: TestClient) -> None:
    told = rows(client)
    assert tuple(told[0]) == COLUMNS
    hours = [float(row["hours_together"]) for row in told]
    assert hours == sorted(hours, reverse=True)
    paracetamol = next(row for row in told if row["one"] == "paracetamol")
    assert paracetamol == {
        "one": "paracetamol", "other": "sodium-chloride-0.9", "hours_together": "0.75",
        "hours_on_one_lumen": "0.75", "patients": "1", "note_lapsed": "no",
    }  # fmt: skip
    assert "bed" not in client.get(f"{PATH}.csv").text


def test_a_signed_note_takes_its_pair_from_the_list(ward: TestClient) -> None:
    before = rows(ward)
    note = {
        "a": "paracetamol", "b": "sodium-chloride-0.9", "text": "its label",
        "conditions": "by Y-site", "review_on": "2031-09-01",
    }  # fmt: skip
    assert ward.post("/co-infusion/notes", data=note, follow_redirects=False).status_code == 303
    after = rows(ward)
    assert len(after) == len(before) - 1
    assert not [row for row in after if row["one"] == "paracetamol"]


def test_a_lapsed_note_is_marked_in_the_file() -> None:
    text = as_csv([Gap("a", "b", 1.234, 0, ("1", "2"), lapsed=True)])
    assert text.splitlines()[1] == "a,b,1.23,0,2,yes"
