"""The page on pairs in a browser, and the notes signed there."""

from urllib.parse import urlencode

import pytest
from fastapi.testclient import TestClient
from httpx import Response

PAIR = "/co-infusion?thing=meropenem&thing=furosemide"
NOTE = {
    "a": "meropenem", "b": "furosemide", "text": "our laboratory saw no change in 4 h",
    "conditions": "by Y-site, in saline",
    "review_on": "2031-09-01",
}  # fmt: skip


SIGNER = "Test nurse pharmacist prescriber, nurse, prescriber and pharmacist"


def sign(ward: TestClient, **changes: str) -> Response:
    return ward.post("/co-infusion/notes", data={**NOTE, **changes}, follow_redirects=False)


def test_two_things_are_told_in_a_sentence_with_the_caution(client: TestClient) -> None:
    text = client.get("/co-infusion?" + urlencode([("thing", "CTX"), ("thing", "LR")])).text
    assert "Only one after the other:" in text
    assert "To 28 days of age:" in text
    assert "Supports your judgement" in text
    assert "ceftriaxone label (seen" in text.lower()


def test_no_data_is_drawn_as_a_gap_and_never_as_safe(client: TestClient) -> None:
    text = client.get(PAIR).text
    assert "Nobody has told us of these two: keep them apart." in text
    assert "pair-gap" in text
    assert "may run together:" not in text.lower()


def test_htmx_gets_the_answers_alone(htmx: TestClient) -> None:
    text = htmx.get(PAIR).text
    assert text.lstrip().startswith('<div id="pairs">')
    assert '<form class="pair-form"' not in text


def test_what_is_not_understood_is_said_and_may_be_chosen(client: TestClient) -> None:
    text = client.get("/co-infusion?thing=ringers&thing=abx").text
    assert "“abx” is not understood. Which antibiotic?" in text
    assert "compound sodium lactate" in text


def test_with_nothing_asked_it_says_how_much_is_held(client: TestClient) -> None:
    text = client.get("/co-infusion").text
    assert "facts are held" in text
    assert "No clinician has reviewed them" in text


@pytest.mark.parametrize("page", ["/catalogue", "/catalogue/lactated-ringers", "/patients/bed-11"])
def test_it_is_reached_from_where_lines_are_thought_of(client: TestClient, page: str) -> None:
    assert 'href="/co-infusion' in client.get(page).text


def test_a_signed_note_counts_at_once_with_its_name_and_date(ward: TestClient) -> None:
    answer = sign(ward)
    assert (answer.status_code, answer.headers["location"]) == (303, PAIR)
    text = ward.get(PAIR).text
    assert f"local note by {SIGNER}, of 4 March 2031" in text
    assert "To be looked at again by 1 September 2031" in text
    assert "Sign a local note" not in text


@pytest.mark.parametrize("field", ["text", "conditions", "review_on"])
def test_what_is_missing_is_said_beside_its_field_and_nothing_typed_is_lost(
    ward: TestClient, field: str
) -> None:
    answer = sign(ward, **{field: ""})
    assert answer.status_code == 422
    assert "nothing is written. Accepted:" in answer.text
    kept = next(value for name, value in NOTE.items() if name not in ("a", "b", field))
    assert kept in answer.text
    assert "local note by" not in ward.get(PAIR).text


@pytest.mark.parametrize(
    ("pair", "status"),
    [
        ({"a": "milrinone", "b": "furosemide"}, 409),
        ({"a": "lactated-ringers", "b": "sodium-chloride-0.9"}, 409),
        ({"a": "moon juice", "b": "furosemide"}, 422),
        ({"a": "", "b": ""}, 422),
        ({"a": "calcium", "b": "meropenem"}, 422),
        ({"a": "ringers", "b": "meropenem"}, 422),
    ],
)
def test_a_note_is_refused_where_something_is_known_or_nothing_is_named(
    ward: TestClient, pair: dict[str, str], status: int
) -> None:
    assert sign(ward, **pair).status_code == status


def test_a_note_is_not_signed_twice_while_one_counts(ward: TestClient) -> None:
    assert sign(ward).status_code == 303
    assert sign(ward).status_code == 409


def test_a_note_taken_back_stays_to_be_read_and_counts_no_more(ward: TestClient) -> None:
    sign(ward)
    taken = {"reason": "new maker"}
    missing = ward.post("/co-infusion/notes/1/withdraw", data={**taken, "reason": ""})
    assert missing.status_code == 422
    assert "Why it no longer holds: nothing is written" in missing.text
    answer = ward.post("/co-infusion/notes/1/withdraw", data=taken, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, PAIR)
    text = ward.get(PAIR).text
    assert f"Taken back by {SIGNER}, on 4 March 2031: new maker" in text
    assert "Our laboratory saw no change in 4 h." in text
    assert "Nobody has told us of these two" in text
    assert "Sign a local note" in text


def test_a_note_that_is_not_there_is_not_found(ward: TestClient) -> None:
    taken = {"reason": "new maker"}
    assert ward.post("/co-infusion/notes/9/withdraw", data=taken).status_code == 404
    assert ward.get("/co-infusion/notes/9/withdraw").status_code == 404


def test_looking_again_from_a_refused_form_leads_back(ward: TestClient) -> None:
    sign(ward)
    again = ward.get("/co-infusion/notes/1/withdraw", follow_redirects=False)
    assert again.headers["location"] == PAIR
    assert ward.get("/co-infusion/notes", follow_redirects=False).headers["location"] == (
        "/co-infusion"
    )


def test_another_site_cannot_sign(ward: TestClient) -> None:
    answer = ward.post("/co-infusion/notes", data=NOTE, headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 403
    assert "local note by" not in ward.get(PAIR).text


def test_what_is_typed_is_never_markup(ward: TestClient) -> None:
    sign(ward, text="<b>bold</b>")
    text = ward.get(PAIR).text
    assert "<b>bold</b>" not in text
    assert "&lt;b&gt;bold" in text


def test_a_patient_shows_the_note_that_speaks_of_what_runs(ward: TestClient) -> None:
    sign(ward, a="paracetamol", b="sodium-chloride-0.9")
    assert "Local note.</b> 0.9% sodium chloride with paracetamol" in (
        ward.get("/patients/bed-11").text
    )


def test_an_order_with_something_beside_it_leads_to_what_may_share_a_lumen(
    client: TestClient,
) -> None:
    typed = {"fluid": "LR", "volume": "1000", "rate": "80", "with": "ceftriaxone 1 g"}
    text = client.post("/orders/review", data=typed).text
    assert "/co-infusion?thing=lactated+Ringer%27s&amp;thing=ceftriaxone" in text
    alone = client.post("/orders/review", data={**typed, "with": ""}).text
    assert "/co-infusion" not in alone
