"""A nurse with two cannulas plans the shift, loses one, and plans again."""

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage

LINES = "/lines/bed-25"
PHONE = {"width": 360, "height": 740}
# Lower than that no two lines of words lie over each other.
LINE_PX = 20
PAGES = re.compile(rb"/Type\s*/Page\b")


@pytest.fixture
def failing(open_page: OpenPage) -> Iterator[Page]:
    """The page of bed 25, on which a lumen may fail; at the end none has."""
    page = open_page(LINES)
    yield page
    while (back := page.get_by_role("button", name="As it was")).count():
        back.first.click()


def test_the_patients_page_leads_to_the_plan_in_one_click(open_page: OpenPage) -> None:
    page = open_page("/patients/bed-25")
    page.get_by_role("link", name="Plan the lines of bed 25").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("The 2 lumens suffice.")


def test_the_shift_leads_to_those_with_too_few_lumens(open_page: OpenPage) -> None:
    page = open_page("/")
    page.locator(".shift-short").get_by_role("link", name=re.compile("bed 25")).click()
    expect(page).to_have_url(re.compile(f"{LINES}$"))


def test_a_lumen_fails_in_one_tap_and_the_plan_is_made_again(failing: Page) -> None:
    failing.get_by_label("Told by, if you like").fill("A. Nurse")
    failing.get_by_role("button", name="This lumen failed (Left forearm)").click()
    expect(failing.get_by_role("heading", level=1)).to_contain_text("needs 1 new cannula")
    expect(failing.get_by_text("failed, told 07:05 by A. Nurse")).to_be_visible()
    expect(failing.locator(".lines-changes")).to_contain_text("Where they were: norepinephrine.")
    failing.get_by_role("button", name="As it was (Left forearm)").click()
    expect(failing.get_by_role("heading", level=1)).to_have_text("The 2 lumens suffice.")


def test_it_works_without_script_and_by_keyboard(open_page: OpenPage) -> None:
    page = open_page(LINES, script=False)
    page.get_by_role("button", name="Looked at, works (Right elbow)").press("Enter")
    expect(page.get_by_text("works, told 07:05")).to_be_visible()


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("path", [LINES, "/lines/bed-09", "/lines/bed-20", f"{LINES}/labels"])
def test_nothing_bars_the_way(
    open_page: OpenPage, barriers: Callable[[Page], list[str]], path: str, look: str
) -> None:
    assert barriers(open_page(path, color_scheme=look)) == []


@pytest.mark.parametrize("path", [LINES, "/lines/bed-11", f"{LINES}/labels"])
def test_a_phone_needs_no_sideways_scroll_and_has_its_own_picture(
    open_page: OpenPage, too_wide: Callable[[Page], int], path: str
) -> None:
    page = open_page(path, viewport=PHONE)
    assert too_wide(page) <= 0
    if path.endswith("labels"):
        return
    expect(page.locator(".lumens-narrow")).to_be_visible()
    expect(page.locator(".lumens-wide")).to_be_hidden()


def test_names_in_the_picture_lie_over_no_other_name(open_page: OpenPage) -> None:
    page = open_page("/lines/bed-11")
    boxes = [
        box for word in page.locator(".lumens-wide .lumens-word:not(.lumens-tick)").all()
        if (box := word.bounding_box()) is not None
    ]  # fmt: skip
    assert len(boxes) > 5
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            across = one["x"] < other["x"] + other["width"] and other["x"] < one["x"] + one["width"]
            down = abs(one["y"] - other["y"]) >= LINE_PX
            assert down or not across


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", [LINES, "/lines/bed-09", "/lines/bed-11"])
def test_the_plan_prints_on_one_page(open_page: OpenPage, path: str, paper: str) -> None:
    assert len(PAGES.findall(open_page(path).pdf(format=paper))) == 1


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_labels_are_three_clicks_away_and_six_fit_a_sheet(open_page: OpenPage, paper: str) -> None:
    page = open_page("/patients/bed-11")
    page.get_by_role("link", name="Plan the lines of bed 11").click()
    page.get_by_role("link", name="Labels for the lumens of bed 11").click()
    expect(page.locator(".label-one")).to_have_count(6)
    assert len(PAGES.findall(page.pdf(format=paper))) == 1
