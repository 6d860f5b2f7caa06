from collections.abc import Callable

import pytest
from fastapi import FastAPI
from starlette.datastructures import QueryParams

from app.review.knowledge import Knowledge
from app.review.workflow import review_patient
from app.storage.database import reading
from app.web.ahead.ahead import AheadPage, ahead_page
from app.web.prediction.asked import read_asked

PageOf = Callable[..., AheadPage]
SALINE = "fluid=sodium-chloride-0.9&volume=1000&rate=250&horizon=8"


@pytest.fixture
def page_of(app: FastAPI) -> PageOf:
    """The short prediction of a query, for a patient of the demo unit or for nobody."""
    knowledge: Knowledge = app.state.knowledge

    def make(query: str, patient: str = "", place: str = "ahead") -> AheadPage:
        with reading(app.state.engine) as session:
            bedside = review_patient(session, knowledge, patient) if patient else None
        asked = read_asked(QueryParams(f"{query}&patient={patient}"), knowledge.catalogue)
        return ahead_page(asked, bedside, knowledge, place)

    return make


def names(page: AheadPage) -> list[str]:
    return [one.panel.name for one in page.drawn]


def test_the_table_tells_of_what_is_drawn_in_the_same_order(page_of: PageOf) -> None:
    page = page_of(SALINE, "bed-04")
    assert names(page)[:2] == ["Potassium", "Sodium"]
    assert [row.name for row in page.rows] == names(page)
    assert page.outlook is not None
    assert page.outlook.glance.moments[0] == "bag in, 4 h"


def test_it_says_the_same_as_the_whole_prediction(page_of: PageOf) -> None:
    page = page_of(SALINE, "bed-04")
    assert page.outlook is not None
    whole = {row.name: row for row in page.outlook.glance.rows}
    assert all(whole[row.name] == row for row in page.rows)
    asked = sorted(page.whole.removeprefix("/predict?").split("&"))
    assert asked == sorted(f"patient=bed-04&{SALINE}".split("&"))


def test_nobody_is_a_usual_adult_and_that_is_said(page_of: PageOf) -> None:
    assert page_of(SALINE).of == "Somebody out of a textbook, of 70 kg"
    assert page_of(f"{SALINE}&weight=55").of == "Somebody out of a textbook, of 55 kg"


def test_typed_figures_are_said_to_be_typed(page_of: PageOf) -> None:
    assert page_of(f"{SALINE}&result_sodium=120").of == "As typed"
    assert page_of(f"{SALINE}&kidneys=1").of == "As typed"


def test_what_else_runs_is_counted_and_said(page_of: PageOf) -> None:
    page = page_of(f"{SALINE}&instead=none", "bed-11")
    assert page.outlook is not None
    counted = len(page.outlook.beside.words)
    assert counted > 1 and f"With {counted} other things that run" in page.beside


def test_what_is_not_counted_is_said_by_its_number(page_of: PageOf) -> None:
    assert "not counted: 1" in page_of(f"{SALINE}&instead=none", "bed-09").beside
    alone = page_of(f"{SALINE}&instead=o1", "bed-09").beside
    assert alone == "1 other thing is not counted."


def test_by_itself_is_said(page_of: PageOf) -> None:
    page = page_of(f"{SALINE}&others=left-out", "bed-11")
    assert page.beside.startswith("By itself")
    assert page.outlook is not None and not page.outlook.beside.loads


def test_where_nothing_else_runs_that_is_said(page_of: PageOf) -> None:
    assert page_of(f"{SALINE}&instead=o1", "bed-04").beside == "Nothing else is on record to run."


def test_what_else_runs_chooses_the_curves_too(page_of: PageOf) -> None:
    bag = "fluid=sodium-chloride-0.9&volume=100&rate=100&horizon=4"
    together = page_of(f"{bag}&instead=none", "bed-03")
    alone = page_of(f"{bag}&others=left-out", "bed-03")
    assert together.outlook is not None and alone.outlook is not None
    assert together.outlook.glance != alone.outlook.glance


def test_without_a_bag_what_is_needed_is_named(page_of: PageOf) -> None:
    page = page_of("")
    assert page.outlook is None and not page.drawn and not page.rows
    assert page.faults[0].field == "Fluid A"


def test_a_field_that_is_not_accepted_is_named(page_of: PageOf) -> None:
    page = page_of("fluid=sodium-chloride-0.9&volume=many&rate=100")
    assert page.outlook is None
    assert [fault.field for fault in page.faults] == ["Volume"]


@pytest.mark.parametrize("place", ["ahead", "ahead-o1", "ahead-all"])
def test_the_part_takes_the_place_that_asked(page_of: PageOf, place: str) -> None:
    assert page_of(SALINE, place=place).place == place


@pytest.mark.parametrize("place", ["", "review", "ahead-", 'ahead-"><script>', "ahead-" + "x" * 60])
def test_a_place_of_another_name_is_not_taken(page_of: PageOf, place: str) -> None:
    assert page_of(SALINE, place=place).place == "ahead"


def line(page: AheadPage) -> str:
    assert page.outlook is not None
    return " ".join(page.outlook.line)


def test_when_to_measure_again_is_said_once_for_each(page_of: PageOf) -> None:
    page = page_of(f"{SALINE}&potassium=20", "bed-04")
    assert line(page).count("Potassium") >= 1
    assert page.outlook is not None
    assert len(set(page.outlook.line)) == len(page.outlook.line)


def test_insulin_on_record_draws_potassium_and_glucose_first(page_of: PageOf) -> None:
    page = page_of(SALINE, "bed-19")
    assert names(page)[:2] == ["Potassium", "Glucose"]
    assert "Potassium likely under 3.5 by" in line(page)
    assert "Glucose likely under 14 by" in line(page)
    assert "ketones clear with insulin" in " ".join(
        page.outlook.unpredicted if page.outlook else ()
    )
    assert "Bicarbonate" not in names(page)


def test_an_old_result_comes_before_one_out_of_a_textbook(page_of: PageOf) -> None:
    page = page_of("fluid=lactated-ringers&volume=1000&rate=250&horizon=8", "bed-23")
    assert page.outlook is not None
    told = [row for row in page.outlook.glance.rows if row.name == "Potassium"]
    unpredicted = " ".join(page.outlook.unpredicted)
    assert all("old" in row.basis and row.now == "3.8" for row in told)
    assert told or "the last, 3.8, is 32 h 35 min old" in unpredicted


def test_where_sodium_has_limits_of_a_day_a_day_is_looked_ahead(page_of: PageOf) -> None:
    low = page_of(f"{SALINE}&result_sodium=118")
    usual = page_of(f"{SALINE}&result_sodium=140")
    assert low.outlook is not None and usual.outlook is not None
    assert (low.outlook.glance.moments[-1], usual.outlook.glance.moments[-1]) == ("24 h", "8 h")
    assert "horizon=24" in low.whole and "horizon=8" in usual.whole
