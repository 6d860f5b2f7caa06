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
TOUCH_PX = 44
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
    failing.get_by_role("button", name="This lumen failed (Left forearm)").click()
    expect(failing.get_by_role("heading", level=1)).to_contain_text("needs 1 new cannula")
    expect(
        failing.get_by_text("failed, told 07:05 by Test nurse pharmacist prescriber")
    ).to_be_visible()
    expect(failing.locator(".lines-changes")).to_contain_text("Where they were: norepinephrine.")
    failing.get_by_role("button", name="As it was (Left forearm)").click()
    expect(failing.get_by_role("heading", level=1)).to_have_text("The 2 lumens suffice.")


def test_it_works_without_script_and_by_keyboard(open_page: OpenPage) -> None:
    page = open_page(LINES, script=False)
    page.get_by_role("button", name="Looked at, works (Right elbow)").press("Enter")
    expect(page.get_by_text("works, told 07:05")).to_be_visible()


def test_enter_after_a_name_fails_no_lumen(failing: Page) -> None:
    failing.keyboard.press("Enter")
    failing.get_by_label("Size, such as 20 G, of Left forearm").press("Enter")
    expect(failing).to_have_url(re.compile(f"{LINES}$"))
    expect(failing.locator(".lines-failed")).to_have_count(0)
    expect(failing.get_by_role("heading", level=1)).to_have_text("The 2 lumens suffice.")


def test_what_must_not_stop_is_the_first_thing_read_when_its_lumen_fails(failing: Page) -> None:
    failing.get_by_role("button", name="This lumen failed (Right elbow)").click()
    heed = failing.locator(".lines-heed li")
    expect(heed.first).to_contain_text("Norepinephrine must not stop: put it on left forearm")
    expect(heed.nth(1)).to_contain_text("look for a leak")
    expect(failing.locator(".lines-step").first).to_contain_text("Move norepinephrine here")


@pytest.mark.parametrize("script", [True, False])
def test_a_cannula_that_was_placed_is_told_with_its_size_and_taken_back(
    open_page: OpenPage, *, script: bool
) -> None:
    page = open_page("/lines/bed-09", script=script)
    page.get_by_text("A new cannula or lumen is in").click()
    page.get_by_label("Where, such as left hand").fill("left hand")
    page.get_by_label("Size, such as 20 G, if you know it").fill("22 G")
    page.get_by_role("button", name="Add it and plan again").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("The 2 lumens suffice.")
    placed = page.locator(".lines-lumen", has_text="Left hand")
    expect(placed).to_contain_text("peripheral, 22 G")
    expect(placed).to_contain_text("placed, told 07:05")
    page.get_by_role("button", name="As it was (Left hand)").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("needs 1 new cannula")


def test_everything_to_be_tapped_is_as_large_as_a_gloved_finger(open_page: OpenPage) -> None:
    page = open_page(LINES, viewport=PHONE)
    page.get_by_text("A new cannula or lumen is in").click()
    for one in page.locator(".lines-side :is(button, summary, a.button, fieldset label)").all():
        box = one.bounding_box()
        assert not box or box["height"] >= TOUCH_PX, one.inner_text()


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize(
    "path", [LINES, "/lines/bed-03", "/lines/bed-09", "/lines/bed-20", f"{LINES}/labels"]
)
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


def test_paper_says_of_which_day_it_is_what_is_given_and_which_pairs_have_no_data(
    open_page: OpenPage,
) -> None:
    page = open_page(LINES)
    page.emulate_media(media="print")
    for words in (
        "lines from Tue 4 Mar 2031, 07:05 to 19:05",
        "Look at both lumens first",
        "As ordered: Compound sodium lactate, 1,000 mL, at 80 mL/h",
        "Norepinephrine, 4 mg in 250 mL 5% glucose at 20 mL/h",
        "Ceftriaxone with metronidazole",
    ):
        expect(page.locator("main").get_by_text(words).first).to_be_visible()
    for hidden in (".lines-size", ".lines-buttons", ".lines-place", ".lines-by"):
        expect(page.locator(hidden).first).to_be_hidden()


@pytest.mark.parametrize("bed", ["25", "11", "09", "03"])
def test_nothing_on_a_label_is_cut_off(open_page: OpenPage, bed: str) -> None:
    page = open_page(f"/lines/bed-{bed}/labels")
    page.emulate_media(media="print")
    cut = page.locator(".label-one").evaluate_all(
        "labels => labels.filter(one => one.scrollHeight > one.clientHeight).length"
    )
    assert cut == 0


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_labels_are_three_clicks_away_and_six_fit_a_sheet(open_page: OpenPage, paper: str) -> None:
    page = open_page("/patients/bed-11")
    page.get_by_role("link", name="Plan the lines of bed 11").click()
    page.get_by_role("link", name="Labels for the lumens of bed 11").click()
    expect(page.locator(".label-one")).to_have_count(6)
    assert len(PAGES.findall(page.pdf(format=paper))) == 1


def test_on_a_phone_a_failed_lumen_is_two_taps_away(open_page: OpenPage) -> None:
    page = open_page(LINES, viewport=PHONE)
    page.get_by_role("link", name="A lumen failed, works, or a new one is in").click()
    expect(page.get_by_role("button", name="This lumen failed (Left forearm)")).to_be_in_viewport()
