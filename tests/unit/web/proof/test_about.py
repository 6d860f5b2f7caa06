"""What it is, what it is not, and whose work it stands on."""

from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.cautions.registry import RULES
from app.web.proof.about import SUBJECTS, about_page, notices


def test_the_caution_stands_at_length(client: TestClient) -> None:
    html = client.get("/about").text
    for words in (
        "It does not replace judgement", "not for emergencies", "“Nothing found” is not “safe”",
        "No clinician has reviewed it", "What it does not assess",
    ):  # fmt: skip
        assert words in html


def test_versions_are_those_in_force(client: TestClient, app: FastAPI) -> None:
    html = client.get("/about").text
    assert app.state.knowledge.ruleset.version in html
    assert app.state.knowledge.catalogue.version in html


def test_every_vendored_file_has_its_licence(client: TestClient) -> None:
    html = client.get("/about").text
    assert notices()
    for notice in notices():
        assert notice.name in html
        assert notice.licence in html


def test_every_rule_belongs_to_a_subject() -> None:
    beginnings = {rule.id.partition("-")[0] for rule in RULES}
    assert beginnings <= {key for keys in SUBJECTS.values() for key in keys}


def test_a_subject_is_assessed_or_to_come(app: FastAPI) -> None:
    page = about_page(app.state.knowledge, "0")
    named = {subject.name for subject in (*page.assessed, *page.to_come)}
    assert named == set(SUBJECTS)
    assert not {s.name for s in page.assessed} & {s.name for s in page.to_come}
