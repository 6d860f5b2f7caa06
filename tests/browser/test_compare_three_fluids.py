"""A prescriber lays three fluids beside plasma, then beside a patient."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]

THREE = (
    "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers"
    "&fluid=multiple-electrolytes-type-1-ph-7.4"
)
PHONE = {"width": 360, "height": 740}
WALL = {"width": 1920, "height": 1080}
# Every text of every picture with the box it takes on the screen, and its own picture's box.
BOXES = """() => [...document.querySelectorAll('.ions-svg')].map(svg => {
  const box = r => [r.left, r.top, r.right, r.bottom];
  return {svg: box(svg.getBoundingClientRect()),
          texts: [...svg.querySelectorAll('tspan, text:not(:has(tspan))')]
            .map(t => ({words: t.textContent, box: box(t.getBoundingClientRect())}))};
})"""
SUMS = """() => [...document.querySelectorAll('.ions-svg')].map(svg => {
  const sums = {};
  for (const block of svg.querySelectorAll('.ions-block')) {
    const r = block.getBoundingClientRect();
    const side = Math.round(r.left);
    sums[side] = (sums[side] || 0) + block.getBBox().height;
  }
  return Object.values(sums);
})"""

Box = tuple[float, float, float, float]


def cover(a: Box, b: Box) -> bool:
    """Whether two boxes share more than the hair's breadth that line boxes overlap by."""
    hair = 3
    across = min(a[2], b[2]) - max(a[0], b[0])
    down = min(a[3], b[3]) - max(a[1], b[1])
    return across > hair and down > hair


def test_three_fluids_are_found_and_laid_side_by_side(open_page: OpenPage) -> None:
    page = open_page("/compare")
    for words, name in (
        ("0.9% sodium chloride", "0.9% sodium chloride"),
        ("lactated ringer", "lactated Ringer's (US)"),
        ("acetate gluconate 7.4", "multiple electrolytes type 1, pH 7.4 (acetate-gluconate)"),
    ):
        page.get_by_label("Add a fluid").press_sequentially(words)
        page.locator("#found").get_by_role("link", name=name, exact=False).first.click()
        expect(page.locator(".chosen")).to_contain_text(name)
    expect(page.locator(".ions-svg")).to_have_count(4)
    expect(page.get_by_role("row", name="Calcium mmol/L")).to_contain_text("none")


def test_everything_works_without_script(open_page: OpenPage) -> None:
    page = open_page(THREE, script=False)
    page.get_by_role("combobox", name="Amounts").select_option("day")
    page.get_by_label("Rate, mL/h").fill("100")
    page.get_by_label("Weight, kg").fill("70")
    page.get_by_role("button", name="Show").click()
    sodium = page.get_by_role("row", name="Sodium mmol").first
    expect(sodium).to_contain_text("369")
    expect(sodium).to_contain_text("5.28 per kg")
    expect(sodium).to_contain_text("about 70 mmol")
    page.get_by_role("link", name="Take lactated Ringer's (US) away").click()
    expect(page.locator(".chosen li")).to_have_count(2)


def test_a_change_redraws_the_table_and_the_address(open_page: OpenPage) -> None:
    page = open_page(THREE)
    page.get_by_label("differences only").check()
    expect(page.locator("#comparison")).to_contain_text("The same in all fluids, so folded")
    expect(page).to_have_url(re.compile("differences=1"))


def test_a_formula_opens_with_its_numbers(open_page: OpenPage) -> None:
    page = open_page(THREE)
    working = page.get_by_text("130 + 4 + 2 × 1.35 − 109 = 27.7").first
    expect(working).to_be_hidden()
    page.locator("summary", has_text="Strong ion difference").click()
    expect(working).to_be_visible()


def test_a_patient_brings_results_with_their_age_and_cautions(open_page: OpenPage) -> None:
    page = open_page(THREE)
    page.get_by_label("For", exact=True).select_option("bed-07")
    expect(page.locator("#what_if")).to_contain_text("Bed 07")
    expect(page.get_by_role("columnheader", name="This patient").first).to_be_visible()
    expect(page.get_by_role("row", name="Sodium mmol/L")).to_contain_text("old")


@pytest.mark.parametrize("viewport", [PHONE, WALL], ids=["phone", "wall"])
def test_columns_are_level_and_no_label_is_covered_or_cut(
    open_page: OpenPage, viewport: dict[str, int]
) -> None:
    page = open_page(THREE, viewport=viewport)
    for sums in page.evaluate(SUMS):
        assert max(sums) - min(sums) <= 1
    for picture in page.evaluate(BOXES):
        left, top, right, bottom = picture["svg"]
        texts = picture["texts"]
        for text in texts:
            x1, y1, x2, y2 = text["box"]
            assert x1 >= left - 1, text
            assert x2 <= right + 1, text
            assert y1 >= top - 1, text
            assert y2 <= bottom + 1, text
        for at, one in enumerate(texts):
            covered = [o["words"] for o in texts[at + 1 :] if cover(one["box"], o["box"])]
            assert covered == [], one["words"]


@pytest.mark.parametrize("look", ["light", "night", "projector"])
def test_nothing_stands_in_anyone_s_way(open_page: OpenPage, barriers: Barriers, look: str) -> None:
    for path in (
        f"{THREE}&patient=bed-20",
        "/catalogue",
        "/catalogue/albumin-20",
        "/rules/k-hyper",
    ):
        page = open_page(path)
        page.evaluate("look => document.documentElement.dataset.look = look", look)
        assert barriers(page) == [], path


@pytest.mark.parametrize(
    "path",
    [
        THREE,
        f"{THREE}&show=day&weight=70&patient=bed-07",
        "/catalogue",
        "/catalogue/lactated-ringers",
        "/rules",
        "/rules/k-hyper",
        "/about",
    ],
)
def test_a_phone_need_not_scroll_sideways(
    open_page: OpenPage, too_wide: TooWide, path: str
) -> None:
    assert too_wide(open_page(path, viewport=PHONE)) == 0


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_comparison_prints_with_its_sources(open_page: OpenPage, paper: str) -> None:
    page = open_page(f"{THREE}&differences=1")
    page.emulate_media(media="print")
    expect(page.locator(".compare-sources")).to_be_visible()
    expect(page.locator(".compare-asked")).to_be_hidden()
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
    assert page.pdf(format=paper).startswith(b"%PDF")
