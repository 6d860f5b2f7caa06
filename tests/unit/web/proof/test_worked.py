"""Worked by hand: every formula on one page, each figure beside the program's own."""

from dataclasses import replace
from html import unescape

from fastapi.testclient import TestClient

from app.physiology.formulas.formula import Subject
from app.physiology.formulas.table import FORMULAS, SUBJECTS
from app.web.proof.worked import FormulaView, worked_page

PAGE = "/predict/formulas"


def formula(formula_id: str) -> FormulaView:
    views = (view for subject in worked_page(SUBJECTS).subjects for view in subject.formulas)
    return next(view for view in views if view.id == formula_id)


def test_every_formula_its_terms_sources_and_limits_are_on_the_page(client: TestClient) -> None:
    answer = client.get(PAGE)
    assert answer.status_code == 200
    text = unescape(answer.text)
    for one in FORMULAS:
        assert f'id="{one.id}"' in text
        assert f'href="#{one.id}"' in text
        assert all(part.expression in text for part in one.parts)
        assert all(source.citation[1:] in text for source in one.sources)
        assert all(limit in text for limit in one.misleads)


def test_the_page_says_what_nobody_has_checked(client: TestClient) -> None:
    html = client.get(PAGE).text
    assert "No clinician has reviewed them" in html
    assert "Supports your judgement" in html
    assert "(from memory)" in html


def test_about_leads_to_it(client: TestClient) -> None:
    assert f'href="{PAGE}"' in client.get("/about").text


def test_nothing_on_the_page_needs_a_form(client: TestClient) -> None:
    main = client.get(PAGE).text.partition("<main")[2].partition("</main>")[0]
    assert "<form" not in main
    assert "<input" not in main


def test_a_stated_figure_keeps_its_digits_and_the_programs_shows_four() -> None:
    change = formula("sodium-change").parts[0].examples[0]
    assert (change.stated, change.computed) == ("16.7", "16.71")
    assert change.origin == "published"
    assert change.inputs == (
        "V 1 L; salt 513 mmol/L; Na 112 mmol/L; body water 23 L"
    )  # fmt: skip
    (burn, _) = formula("burns").parts[0].examples
    assert (burn.stated, burn.computed) == ("11,200", "11,200")


def test_times_of_day_are_told_by_the_clock() -> None:
    (empty,) = formula("run-out").parts[1].examples
    assert empty.inputs.startswith("now 14:00; left 650 mL")
    assert (empty.stated, empty.computed) == ("19:12", "19:12")


def test_all_agree_and_one_that_did_not_would_be_marked() -> None:
    page = worked_page(SUBJECTS)
    assert "in every one" in page.agreement
    first = FORMULAS[0]
    part = first.parts[0]
    wrong = replace(part.examples[0], expected=20.0)
    off = replace(first, parts=(replace(part, examples=(wrong,)),))
    page = worked_page((Subject("One", (off,)),))
    (view,) = page.subjects[0].formulas
    assert view.parts[0].examples[0].differs
    assert view.cases == "1 case worked, 1 not as stated"
    assert page.agreement == (
        "1 worked example; in 1 the program's figure differs from the one stated."
    )
