"""How far off was it: predicted beside measured, study by study, nothing glossed over."""

from dataclasses import replace

from fastapi.testclient import TestClient
from markupsafe import escape

from app.physiology.course.parameters import PARAMETERS
from app.review.trials.shipped import shipped
from app.web.proof.trials import trials_page

PAGE = "/predict/trials"


def test_every_study_is_shown_with_what_was_assumed(client: TestClient) -> None:
    answer = client.get(PAGE)
    assert answer.status_code == 200
    for study in trials_page(shipped()).studies:
        assert escape(study.citation) in answer.text
    assert "midway between a man and a woman" in answer.text
    assert "from memory" in answer.text


def test_the_page_says_what_a_mean_of_a_group_is_not(client: TestClient) -> None:
    html = client.get(PAGE).text
    assert "nobody has tested the prediction at the bedside" in html
    assert "Supports your judgement" in html


def test_about_leads_to_it(client: TestClient) -> None:
    assert f'href="{PAGE}"' in client.get("/about").text


def test_every_point_and_every_parameter_has_a_row() -> None:
    page = trials_page(shipped())
    assert sum(len(study.points) for study in page.studies) == len(shipped().points)
    assert len(page.parameters) == len(PARAMETERS)
    assert all(one.why for one in page.parameters)


def test_the_rows_held_out_are_told_apart_from_those_used() -> None:
    page = trials_page(shipped())
    chloride = next(one for one in page.quantities if one.name == "Chloride")
    assert chloride.tuned.off != chloride.held_out.off
    tuned = tuple(point for point in shipped().points if not point.held_out)
    alone = trials_page(replace(shipped(), points=tuned)).quantities
    assert all(one.held_out.off == "none" for one in alone)
    assert next(one for one in alone if one.name == "Osmolality").bar == "not set"


def test_a_quantity_over_its_bar_says_so() -> None:
    wrong = [replace(p, predicted=p.measured + 9, held_out=False) for p in shipped().points]
    page = trials_page(replace(shipped(), points=tuple(wrong)))
    assert all(one.tuned.over for one in page.quantities if one.bar != "not set")


def test_another_model_in_force_is_said() -> None:
    assert not trials_page(shipped()).differs
    assert trials_page(replace(shipped(), model="older")).differs


def test_changes_carry_their_sign_and_no_change_none() -> None:
    one = replace(shipped().points[0], quantity="sodium_mmol_l", measured=1.24, predicted=-0.04)
    (study,) = trials_page(replace(shipped(), points=(one,))).studies
    (row,) = study.points
    assert (row.measured, row.predicted, row.off) == ("+1.2", "0", "−1.3")


def test_it_is_said_which_held_out_groups_were_in_view(client: TestClient) -> None:
    html = client.get("/predict/trials").text
    assert "scheingraber1999 and mcfarlane1994, were in view" in html and "flatters" in html
