"""How far off was it: predicted beside measured, study by study, nothing glossed over."""

import re
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


def test_a_quantity_over_its_bar_says_so(client: TestClient) -> None:
    wrong = [replace(p, predicted=p.measured + 9, held_out=False) for p in shipped().points]
    page = trials_page(replace(shipped(), points=tuple(wrong)))
    assert all(one.tuned.over for one in page.quantities if one.bar != "not set")
    assert client.get(PAGE).text.count("over the bar") == sum(
        error.over
        for page in [trials_page(shipped())]
        for error in [
            *(side for one in page.quantities for side in (one.held_out, one.tuned)),
            *(row.error for dose in page.doses for row in dose.rows),
        ]
    )


def test_errors_come_first_then_pictures_then_studies(client: TestClient) -> None:
    html = client.get(PAGE).text
    places = [html.index(words) for words in (
        ">By quantity<", ">By fluid and dose<", ">Predicted against measured<", ">Study by study<",
    )]  # fmt: skip
    assert places == sorted(places)


def test_every_mark_leads_to_a_row_of_the_page(client: TestClient) -> None:
    html = client.get(PAGE).text
    hrefs = re.findall(r'class="against-link" href="#([^"]+)"', html)
    assert len(hrefs) == len(shipped().points)
    assert all(html.count(f'<tr id="{href}">') == 1 for href in hrefs)


def test_the_studies_that_set_the_model_are_named_and_led_to(client: TestClient) -> None:
    html = client.get(PAGE).text
    set_with = {study.key for study in trials_page(shipped()).studies if study.set_with}
    assert set_with == {point.study for point in shipped().points if not point.held_out}
    for key in set_with:
        assert f'<a href="#study-{key}">{key}</a>' in html
        assert html.count(f'id="study-{key}"') == 1


def test_another_model_in_force_is_said() -> None:
    assert not trials_page(shipped()).differs
    assert trials_page(replace(shipped(), model="older")).differs


def test_changes_carry_their_sign_and_no_change_none() -> None:
    one = replace(shipped().points[0], quantity="sodium_mmol_l", measured=1.24, predicted=-0.04)
    (study,) = trials_page(replace(shipped(), points=(one,))).studies
    (row,) = study.points
    assert (row.measured, row.predicted, row.off) == ("+1.2", "0", "−1.3")


def test_it_is_said_which_groups_were_in_view(client: TestClient) -> None:
    viewed = tuple(
        replace(point, held_out=False, viewed=True) if point.study == "lobo2001" else point
        for point in shipped().points
    )
    page = trials_page(replace(shipped(), points=viewed))
    assert "lobo2001" in page.viewed
    (lobo,) = (study for study in page.studies if study.key == "lobo2001")
    assert all("in view when a number was chosen" in row.marks for row in lobo.points)
    shown = ", ".join(trials_page(shipped()).viewed)
    assert not shown or f"Of these {shown} had been gathered" in client.get(PAGE).text


def test_a_difference_names_the_fluid_taken_off() -> None:
    one = replace(shipped().points[0], against="lactated Ringer's")
    (study,) = trials_page(replace(shipped(), points=(one,))).studies
    assert study.points[0].given.endswith("; less what lactated Ringer's did to them")
