"""A label held against an entry, on its page."""

import pytest
from fastapi.testclient import TestClient

from app.catalogue.labels.held import Difference, Held
from app.catalogue.labels.help import WORDINGS
from app.web.fluids.edit.label import headline_of
from tests.unit.catalogue.labels.true_labels import TRUE_LABELS

PATH = "/catalogue/lactated-ringers/label"
TRUE = TRUE_LABELS["lactated-ringers"][1]


def held(client: TestClient, text: str) -> str:
    return client.post(PATH, data={"label": text}).text


def test_a_true_label_agrees_and_says_how_many_figures_were_read(client: TestClient) -> None:
    html = held(client, TRUE)
    assert "figures that were read agree" in html
    assert "What differs" not in html
    assert "Supports your judgement" in html


def test_a_difference_shows_both_figures_and_the_slip_and_warns_of_another_maker(
    client: TestClient,
) -> None:
    html = held(client, TRUE.replace("Calcium 2.7", "Calcium 1.35"))
    for words in ("1.35 mEq/L", "1.35 mmol/L (2.7 mEq/L)", "as if mmol had been printed for mEq"):
        assert words in html
    assert "another maker or country is another entry" in html
    assert "/catalogue/compound-sodium-lactate/label" in html


def test_what_was_not_read_and_what_is_not_told_are_said(client: TestClient) -> None:
    html = held(client, "glycine 15 g/L; pH 6 to 7.5")
    assert "glycine 15 g" in html
    assert "They may differ" in html
    assert "ions, osmolarity" in html


def test_nothing_compared_is_never_said_to_agree(client: TestClient) -> None:
    html = held(client, "Keep out of the sight of children.")
    assert "Nothing of this label could be compared" in html
    assert "Draft this as a change" not in html


def test_an_empty_label_says_what_is_accepted(client: TestClient) -> None:
    answer = client.post(PATH, data={"label": "  "})
    assert answer.status_code == 422
    assert "Accepted: the label’s text" in answer.text


def test_a_photo_is_not_read_and_every_wording_that_is_stands_beside(client: TestClient) -> None:
    html = client.get(PATH).text
    assert "A photo or a scan is not read here" in html
    assert all(wording.what in html for wording in WORDINGS)


def test_markup_in_a_label_is_text(client: TestClient) -> None:
    assert "<script>alert" not in held(client, "<script>alert(1)</script> sodium 5")


def test_a_fluid_that_is_not_there_has_no_label(client: TestClient) -> None:
    assert client.get("/catalogue/nonsuch/label").status_code == 404
    assert client.post("/catalogue/nonsuch/label", data={"label": "x"}).status_code == 404


@pytest.mark.parametrize(
    ("differ", "same", "unread", "told"),
    [
        (0, 0, 0, "Nothing of this label could be compared"),
        (1, 2, 0, "1 figure differs, 2 agree"),
        (2, 0, 1, "2 figures differ, 0 agree; something was not read"),
        (0, 3, 0, "All 3 figures that were read agree"),
        (0, 1, 1, "One figure was read and agrees; something was not read"),
    ],
)
def test_the_headline_says_what_came_of_it(differ: int, same: int, unread: int, told: str) -> None:
    one = Difference("sodium", "1", "2")
    assert headline_of(Held((one,) * differ, ("a",) * same, ("b",) * unread)) == told
