"""An educator reads how far off the prediction was, from a mark of a picture to its row."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]

PAGE = "/predict/trials"
PHONE = {"width": 360, "height": 740}
CUT = """() => [...document.querySelectorAll('#trial_pictures svg')].flatMap(svg => {
  const room = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('text')].filter(text => {
    const box = text.getBoundingClientRect();
    return box.left < room.left - 1 || box.right > room.right + 1
        || box.top < room.top - 1 || box.bottom > room.bottom + 1;
  }).map(text => text.textContent);
})"""


def test_a_mark_leads_to_its_row(open_page: OpenPage) -> None:
    page = open_page(PAGE)
    mark = page.locator(".against-link").first
    target = mark.get_attribute("href")
    assert target is not None
    mark.locator("polygon").click()
    row = page.locator(f"tr{target}")
    expect(row).to_be_in_viewport()
    outlined = row.evaluate("row => getComputedStyle(row).outlineStyle")
    assert outlined == "solid"


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 900}], ids=["phone", "desk"])
def test_no_word_of_a_picture_is_cut(
    open_page: OpenPage, too_wide: TooWide, viewport: dict[str, int]
) -> None:
    page = open_page(PAGE, viewport=viewport)
    assert too_wide(page) == 0
    assert page.evaluate(CUT) == []


def test_marks_differ_without_colour(open_page: OpenPage) -> None:
    page = open_page(PAGE)
    fills = {
        style: page.locator(f".against-key .against-{style}").last.evaluate(
            "mark => [getComputedStyle(mark).fill, getComputedStyle(mark).strokeDasharray].join()"
        )
        for style in ("held", "set", "told")
    }
    assert len(set(fills.values())) == len(fills)


@pytest.mark.parametrize("look", ["light", "night", "projector"])
def test_nothing_stands_in_anyone_s_way(open_page: OpenPage, barriers: Barriers, look: str) -> None:
    page = open_page(PAGE)
    page.evaluate("look => document.documentElement.dataset.look = look", look)
    assert barriers(page) == []
