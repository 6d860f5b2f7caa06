"""Calm but dense: the rows a charge nurse sees without scrolling, and the picture on a wall."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]

THREE = (
    "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers"
    "&fluid=multiple-electrolytes-type-1-ph-7.4"
)
# Rows of which both the sentence and what to do end above the foot of the window.
WHOLE_ROWS = """() => [...document.querySelectorAll('.shift-row:has(.shift-do)')].filter(row =>
  [row.querySelector('.shift-say'), row.querySelector('.shift-do')]
  .every(e => e.getBoundingClientRect().bottom <= innerHeight)).length"""
BESIDE = """() => [...document.querySelectorAll('.shift-row:has(.shift-do)')]
  .every(row => row.querySelector('.shift-do').getBoundingClientRect().left
    >= row.querySelector('.shift-say').getBoundingClientRect().right)"""
WITHIN = """() => [...document.querySelectorAll('.ions-one')].map(one => {
  const box = one.getBoundingClientRect(); return [box.left, box.right, box.bottom];
})"""


@pytest.mark.parametrize(
    ("width", "height", "rows"), [(1280, 900, 5), (1920, 1080, 8)], ids=["desk", "wide"]
)
def test_the_first_rows_fit_with_what_to_do_beside_them(
    open_page: OpenPage, width: int, height: int, rows: int
) -> None:
    page = open_page("/", viewport={"width": width, "height": height})
    assert page.evaluate(WHOLE_ROWS) >= rows
    assert page.evaluate(BESIDE)


def test_on_a_wall_three_fluids_and_plasma_stand_on_one_screen(open_page: OpenPage) -> None:
    page = open_page(THREE, viewport={"width": 1920, "height": 1080})
    page.get_by_role("button", name="Wall").click()
    expect(page.locator("html")).to_have_attribute("data-look", "projector")
    expect(page.locator(".ions-one")).to_have_count(4)
    for left, right, bottom in page.evaluate(WITHIN):
        assert left >= 0
        assert right <= 1920
        assert bottom <= 1080


def test_paper_has_every_bed_with_a_box_to_tick(open_page: OpenPage) -> None:
    page = open_page("/")
    page.emulate_media(media="print")
    rows = page.locator(".shift-row")
    assert rows.count() == 25
    for row in (rows.first, rows.last):
        expect(row).to_be_visible()
    assert page.evaluate("document.querySelector('.shift-nothing .shift-row').offsetHeight") > 0
