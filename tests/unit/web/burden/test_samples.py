"""Two people mark a sample, and neither sees the other's word first."""

import re

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.storage.audit.reading import read_head
from app.storage.database import reading, transaction
from app.storage.past.past import purge_past
from app.storage.replays import jobs
from app.storage.samples.samples import read_items
from tests.unit.web.burden.conftest import Count
from tests.unit.web.replay.conftest import UNTIL, now

SAMPLE = "/burden/samples/1"


@pytest.fixture
def drawn(nurse: TestClient, count: Count) -> str:
    """A sample of ten."""
    count()
    answer = nurse.post("/burden/samples", data={"size": "10"}, follow_redirects=False)
    assert answer.status_code == 303
    return str(answer.headers["location"])


def mark(client: TestClient, number: int, verdict: str = "useful", reason: str = "seen") -> int:
    data = {"verdict": verdict, "reason": reason}
    return client.post(f"{SAMPLE}/{number}", data=data, follow_redirects=False).status_code


def test_a_sample_is_drawn_by_a_seed_that_is_kept(
    nurse: TestClient, own_app: FastAPI, drawn: str
) -> None:
    assert drawn == SAMPLE
    text = nurse.get(drawn).text
    assert "10 to be marked by you" in text
    assert "seed seed" in text
    with reading(own_app.state.engine) as session:
        head = read_head(session)
        assert head is not None
        assert head.count >= 2


def test_neither_sees_the_others_word_before_both_have_said_theirs(
    nurse: TestClient, pharmacist: TestClient, drawn: str
) -> None:
    assert mark(nurse, 1, "wrong", "not of this patient at all") == 303
    other = pharmacist.get(f"{SAMPLE}/1").text
    assert "not of this patient at all" not in other
    assert "Test nurse" not in re.sub(r"Drawn by chance.*", "", other)
    assert "to be marked by you" in pharmacist.get(SAMPLE).text
    assert "wrong; waits" in nurse.get(SAMPLE).text
    assert "wrong; waits" not in pharmacist.get(SAMPLE).text
    assert "not of this patient" not in pharmacist.get("/burden/marks.csv").text
    assert mark(pharmacist, 1, "useful", "I would act") == 303
    for client in (nurse, pharmacist):
        both = client.get(f"{SAMPLE}/1").text
        assert "not of this patient at all" in both
        assert "I would act" in both
    assert "differ: wrong, useful" in nurse.get(SAMPLE).text
    assert "not of this patient" in pharmacist.get("/burden/marks.csv").text


def test_nobody_marks_twice_and_no_third_person_marks(
    nurse: TestClient, pharmacist: TestClient, prescriber: TestClient, drawn: str
) -> None:
    assert mark(nurse, 2) == 303
    assert mark(nurse, 2, "wrong") == 409
    assert mark(pharmacist, 2) == 303
    assert mark(prescriber, 2) == 409
    assert "Mark it" not in prescriber.get(f"{SAMPLE}/2").text


def test_a_mark_leads_to_the_next_one(nurse: TestClient, drawn: str) -> None:
    data = {"verdict": "useful", "reason": ""}
    answer = nurse.post(f"{SAMPLE}/9", data=data, follow_redirects=False)
    assert answer.headers["location"] == f"{SAMPLE}/10"
    answer = nurse.post(f"{SAMPLE}/10", data=data, follow_redirects=False)
    assert answer.headers["location"] == f"{SAMPLE}/1"


@pytest.mark.parametrize(
    ("verdict", "reason", "told"),
    [
        ("", "seen", "Choose one of the three"),
        ("splendid", "seen", "Choose one of the three"),
        ("wrong", "  ", "Say why"),
        ("not useful", "", "Say why"),
    ],
)
def test_what_is_not_accepted_is_told_and_kept(
    nurse: TestClient, drawn: str, verdict: str, reason: str, told: str
) -> None:
    answer = nurse.post(f"{SAMPLE}/3", data={"verdict": verdict, "reason": reason})
    assert answer.status_code == 422
    assert told in answer.text
    assert (reason.strip() or "Mark it") in answer.text
    assert "to be marked by you" in nurse.get(SAMPLE).text


def test_a_second_sample_of_the_same_count_has_other_findings(
    nurse: TestClient, own_app: FastAPI, drawn: str
) -> None:
    nurse.post("/burden/samples", data={"size": "10"})
    with reading(own_app.state.engine) as session:
        items = [(i.past_id, i.rule_id, i.order_ids) for i in read_items(session)]
    assert len(items) == 20
    assert len(set(items)) == 20


def test_one_rule_alone_may_be_drawn(nurse: TestClient, own_app: FastAPI, count: Count) -> None:
    count()
    nurse.post("/burden/samples", data={"size": "20", "rule": "ord-water-total"})
    with reading(own_app.state.engine) as session:
        assert {item.rule_id for item in read_items(session)} == {"ord-water-total"}


def test_without_a_count_there_is_nothing_to_draw(nurse: TestClient, own_app: FastAPI) -> None:
    assert nurse.post("/burden/samples").status_code == 409
    with transaction(own_app.state.engine) as session:
        jobs.ask(session, jobs.Asked(now(), "B. Birch", "a2", "s"))
    assert nurse.post("/burden/samples", data={"size": "9999"}).status_code == 409


def test_what_retention_took_away_is_said_and_can_still_be_marked(
    nurse: TestClient, own_app: FastAPI, drawn: str
) -> None:
    with transaction(own_app.state.engine) as session:
        purge_past(session, UNTIL)
    assert "Retention has taken away the past order" in nurse.get(f"{SAMPLE}/1").text
    assert mark(nurse, 1) == 303


@pytest.mark.parametrize("path", ["/burden/samples/9", f"{SAMPLE}/99", f"{SAMPLE}/0"])
def test_there_is_no_sample_or_finding_nobody_drew(
    nurse: TestClient, drawn: str, path: str
) -> None:
    assert nurse.get(path).status_code == 404
