"""A charge nurse starts a shift: whom to see first, why, and what to do."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
PHONE = {"width": 360, "height": 740}
WALL = {"width": 1920, "height": 1080}


def test_the_first_row_says_whom_to_see_and_what_to_do_without_a_click(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/")
    expect(page.get_by_role("heading", level=1)).to_contain_text("to call about")
    first = page.locator(".shift-row").first
    expect(first.locator(".level")).to_have_text("critical")
    expect(first.locator(".shift-do")).to_be_in_viewport()
    assert barriers(page) == []


def test_the_reason_is_one_click_away_with_figures_limit_and_source(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/")
    first = page.locator(".shift-row").first
    expect(first.get_by_text("Source", exact=True)).to_be_hidden()
    first.locator("summary").first.click()
    for word in ("Figures", "Limits", "Unless", "Source"):
        expect(first.get_by_text(word, exact=True)).to_be_visible()
    assert barriers(page) == []


def test_the_whole_round_goes_by_keyboard(open_page: OpenPage) -> None:
    page = open_page("/")
    page.keyboard.press("Tab")
    expect(page.get_by_text("Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()
    row = page.locator(".shift-row").first
    for _ in range(10):
        page.keyboard.press("Tab")
        if row.locator("summary").first.evaluate("e => e === document.activeElement"):
            break
    expect(row.locator("summary").first).to_be_focused()
    page.keyboard.press("Enter")
    expect(row.locator("details").first).to_have_attribute("open", "")
    row.get_by_role("link", name="Open bed").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bed")


def test_looking_again_brings_the_list_anew(open_page: OpenPage) -> None:
    page = open_page("/")
    page.evaluate("document.querySelector('.shift-row').id = 'old'")
    page.get_by_role("link", name="Look again").click()
    expect(page.locator("#old")).to_have_count(0)
    expect(page.locator(".shift-row").first).to_be_visible()
    assert page.url.endswith("/")


def test_without_script_rows_unfold_and_the_list_can_be_had_again(open_page: OpenPage) -> None:
    page = open_page("/", script=False)
    row = page.locator(".shift-row").first
    row.locator("summary").first.click()
    expect(row.get_by_text("Source", exact=True)).to_be_visible()
    page.get_by_role("link", name="Look again").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()


@pytest.mark.parametrize("viewport", [PHONE, WALL], ids=["phone", "wall"])
@pytest.mark.parametrize("path", ["/", "/patients/bed-04", "/orders/new"])
def test_nothing_runs_off_the_side(
    open_page: OpenPage, too_wide: Callable[[Page], int], path: str, viewport: dict[str, int]
) -> None:
    assert too_wide(open_page(path, viewport=viewport)) <= 0


@pytest.mark.parametrize("look", ["Night", "Wall", "Light"])
def test_a_look_is_chosen_and_kept(open_page: OpenPage, barriers: Barriers, look: str) -> None:
    page = open_page("/patients/bed-04")
    page.get_by_role("button", name=look).click()
    expect(page.get_by_role("button", name=look)).to_have_attribute("aria-pressed", "true")
    assert page.url.endswith("/patients/bed-04")
    assert barriers(page) == []
    page.goto("/")
    expect(page.get_by_role("button", name=look)).to_have_attribute("aria-pressed", "true")


def test_everything_to_press_is_big_enough_for_a_gloved_hand(open_page: OpenPage) -> None:
    page = open_page("/", viewport=PHONE)
    small = page.evaluate(
        """[...document.querySelectorAll('summary, button, .button, nav a, input, select')]
        .filter(e => e.checkVisibility() && e.type !== 'hidden')
        .filter(e => e.getBoundingClientRect().height < 44).map(e => e.textContent)"""
    )
    assert small == []
