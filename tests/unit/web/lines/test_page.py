"""The lines of one patient over HTTP: seen, told of, and planned again."""

import re

import pytest
from fastapi.testclient import TestClient

PAGE = "/lines/bed-25"
TELL = "/lines/bed-25/lumens"


def test_every_demo_patient_has_a_lines_page_and_labels(client: TestClient) -> None:
    for number in range(1, 26):
        for address in (f"/lines/bed-{number:02}", f"/lines/bed-{number:02}/labels"):
            assert client.get(address).status_code == 200, address


def test_the_patients_page_leads_to_the_lines(client: TestClient) -> None:
    assert f'href="{PAGE}"' in client.get("/patients/bed-25").text


def test_the_page_says_what_came_of_it_and_draws_it_twice(client: TestClient) -> None:
    text = client.get(PAGE).text
    assert "<h1>The 2 lumens suffice.</h1>" in text
    assert len(re.findall(r"<svg class=\"lumens ", text)) == 2
    assert "Supports your judgement" in text


def test_a_patient_who_is_not_there_is_told_plainly(client: TestClient) -> None:
    for answer in (client.get("/lines/nobody"), client.post("/lines/nobody/lumens")):
        assert answer.status_code == 404
        assert "No such patient" in answer.text


def test_one_tap_fails_a_lumen_and_another_takes_it_back(ward: TestClient) -> None:
    before = ward.get(PAGE).text
    answer = ward.post(TELL, data={"failed": "left forearm"})
    assert answer.status_code == 200
    assert "failed, told 07:05 by Test nurse pharmacist prescriber" in answer.text
    assert "The one lumen does not suffice." in answer.text
    assert "failed, told 07:05" in ward.get("/patients/bed-25").text
    assert "left forearm" in ward.post(TELL, data={"back": "left forearm"}).text
    assert ward.get(PAGE).text == before


def test_a_lumen_looked_at_is_confirmed(ward: TestClient) -> None:
    text = ward.post(TELL, data={"works": "right elbow"}).text
    assert "works, told 07:05" in text


@pytest.mark.parametrize("sent", [{}, {"failed": "left foot"}, {"failed": ""}])
def test_a_lumen_that_is_not_there_is_refused_with_those_there_are(
    ward: TestClient, sent: dict[str, str]
) -> None:
    answer = ward.post(TELL, data=sent)
    assert answer.status_code == 422
    assert "left forearm, right elbow" in answer.text


def test_looking_again_after_a_refusal_leads_back_to_the_plan(client: TestClient) -> None:
    answer = client.get(TELL, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, PAGE)


def test_another_sites_page_cannot_fail_a_lumen(ward: TestClient) -> None:
    headers = {"sec-fetch-site": "cross-site"}
    answer = ward.post(TELL, data={"failed": "left forearm"}, headers=headers)
    assert answer.status_code == 403
    assert "The 2 lumens suffice." in ward.get(PAGE).text


def test_the_shift_counts_a_failed_lumen(ward: TestClient) -> None:
    assert "bed 02<span" not in ward.get("/").text.partition("See first")[0]
    ward.post("/lines/bed-02/lumens", data={"failed": "right hand"})
    board = ward.get("/").text.partition("See first")[0]
    assert "bed 02<span" in board
    assert "1 lumen, 2 infusions" in board


PLACED = {"where": " left  foot ", "site": "peripheral", "size": "20 G"}


def test_a_cannula_that_was_placed_is_told_and_planned_with_and_may_be_taken_back(
    ward: TestClient,
) -> None:
    page, place = "/lines/bed-09", "/lines/bed-09/placed"
    before = ward.get(page).text
    text = ward.post(place, data=PLACED).text
    assert "<h1>The 2 lumens suffice.</h1>" in text
    assert "placed, told 07:05 by Test nurse pharmacist prescriber" in text
    assert "peripheral, 20 G" in text
    assert "left foot" in ward.get("/patients/bed-09").text
    assert "bed 09<span" not in ward.get("/").text.partition("See first")[0]
    assert ward.post("/lines/bed-09/lumens", data={"back": "left foot"}).text == before


@pytest.mark.parametrize(
    ("sent", "said"),
    [({"where": ""}, "say the place"), ({"where": "Right Elbow"}, "there are right elbow"),
     ({"site": "spine"}, "peripheral or central")],
)  # fmt: skip
def test_a_cannula_without_a_place_of_its_own_is_refused(
    ward: TestClient, sent: dict[str, str], said: str
) -> None:
    answer = ward.post("/lines/bed-09/placed", data=PLACED | sent)
    assert answer.status_code == 422
    assert said in answer.text
    assert ward.post("/lines/nobody/placed", data=PLACED).status_code == 404


def test_the_size_of_a_lumen_is_kept_as_written_and_stays(ward: TestClient) -> None:
    sizes = {"of": ["left forearm", "right elbow"], "size": ["20 G", " 18  G "]}
    text = ward.post(TELL, data={"works": "right elbow", **sizes}).text
    assert "peripheral, 18 G" in text
    assert "peripheral, 20 G" not in text
    assert "peripheral, 18 G" in ward.post(TELL, data={"failed": "right elbow"}).text
    assert "peripheral, 18 G" in ward.get("/patients/bed-25").text


def test_enter_in_a_field_presses_no_button_that_fails_a_lumen(client: TestClient) -> None:
    form = client.get(PAGE).text.partition('action="/lines/bed-25/lumens"')[2]
    assert form.index("<button") == form.index('<button type="submit" disabled hidden>')
