"""How good is it: the report of the cases, with nothing glossed over."""

from dataclasses import replace

import pytest
from fastapi.testclient import TestClient

from app.review.knowledge import Knowledge
from app.review.measured.report import FirstMet, Measured, Share
from app.review.receipts.versions import versions_of
from app.web.proof.measured import PARTS, measured_page, share_view, shipped


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """Everything known, with limits as shipped."""
    return Knowledge.from_seed()


@pytest.fixture
def fresh(knowledge: Knowledge) -> Measured:
    """The report shipped, as if measured on what is in force."""
    return replace(shipped(), versions=versions_of(knowledge))


def test_the_page_says_that_no_clinician_has_reviewed_the_cases(client: TestClient) -> None:
    html = client.get("/rules/measured").text
    assert "No clinician has reviewed the cases" in html
    assert "are no proof" in html
    assert "Supports your judgement" in html


def test_every_wrong_case_is_named(client: TestClient) -> None:
    html = client.get("/rules/measured").text
    for wrong in shipped().wrong:
        assert f"{wrong.case} ·" in html
    for rule, _ in shipped().false_alarms:
        assert rule in html


def test_rules_and_about_lead_to_it(client: TestClient) -> None:
    for page in ("/rules", "/about"):
        assert 'href="/rules/measured"' in client.get(page).text


def test_it_is_said_when_something_else_is_in_force(fresh: Measured, knowledge: Knowledge) -> None:
    assert measured_page(fresh, knowledge).differs == ""
    older = replace(fresh, versions={**fresh.versions, "ruleset": "older", "vocabulary": "older"})
    page = measured_page(older, knowledge)
    assert page.differs == "rules or limits, words"
    assert page.ruleset == "older"
    assert page.in_force == knowledge.ruleset.version


def test_every_part_that_may_differ_has_a_word(knowledge: Knowledge) -> None:
    assert set(PARTS) == set(versions_of(knowledge))


def test_every_group_and_author_has_a_row(fresh: Measured, knowledge: Knowledge) -> None:
    page = measured_page(fresh, knowledge)
    assert [part.name for part in page.groups][:2] == ["Problems", "Look-alikes"]
    assert len(page.members) == len(fresh.members)


def test_a_share_of_nothing_is_no_share() -> None:
    assert share_view(Share(0, 0)).counted == "none asked"
    one = share_view(Share(50, 70))
    assert (one.counted, one.share, one.between) == ("50 of 70", "71%", "60 to 81%")
    assert share_view(Share(204, 205)).share == "99%"


def test_what_was_reached_when_first_met_has_a_row(fresh: Measured, knowledge: Knowledge) -> None:
    first = FirstMet("A panel", "2031-03-04", 9, Share(1, 2), Share(3, 4), Share(0, 3))
    (row,) = measured_page(replace(fresh, first_met=(first,)), knowledge).first_met
    assert (row.panel, row.cases, row.critical.counted) == ("A panel", 9, "1 of 2")
