"""A prescriber asks what a bag will do, changes it, and reads the pictures without a mouse."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]

TWO = (
    "/predict?fluid=sodium-chloride-3&fluid_b=lactated-ringers&volume=500&minutes=240"
    "&weight=60&result_sodium=116&potassium_b=20"
)
PHONE = {"width": 360, "height": 740}
WALL = {"width": 1920, "height": 1080}
BOXES = """() => [...document.querySelectorAll('.curves-svg')].map(svg => {
  const box = r => [r.left, r.top, r.right, r.bottom];
  return {svg: box(svg.getBoundingClientRect()),
          texts: [...svg.querySelectorAll('text')]
            .map(t => ({words: t.textContent, box: box(t.getBoundingClientRect())}))};
})"""


def test_a_change_redraws_and_the_address_tells_it(open_page: OpenPage) -> None:
    page = open_page("/predict?patient=bed-04")
    expect(page.locator("#course")).to_contain_text("potassium 1.2 mmol/h")
    page.get_by_label("KCl in A").fill("40")
    page.get_by_role("textbox", name="Volume").click()
    expect(page.locator("#course")).to_contain_text("potassium 2.4 mmol/h")
    expect(page).to_have_url(re.compile("potassium=40"))
    page.get_by_label("Fluid B").select_option("lactated-ringers")
    expect(page.locator(".curves-line-B")).to_have_count(11)


def test_another_patient_brings_their_own_form(open_page: OpenPage) -> None:
    page = open_page("/predict")
    expect(page.get_by_label("Weight")).to_be_visible()
    page.get_by_label("For", exact=True).select_option("bed-04")
    expect(page.locator("#course")).to_contain_text("Bed 04")
    expect(page.get_by_label("Weight")).to_have_count(0)
    expect(page.get_by_label("KCl in A")).to_have_value("20")


def test_what_is_lost_is_typed_in_the_folded_part_and_stays_with_its_patient(
    open_page: OpenPage,
) -> None:
    page = open_page("/predict?patient=bed-04")
    page.locator("summary", has_text="Losses, what follows").click()
    page.get_by_label("Urine mL/h").fill("150")
    page.get_by_label("Gastric").fill("60")
    page.get_by_label("Gastric").blur()
    expect(page.locator("#course")).to_contain_text("Lost besides: gastric 60 mL/h.")
    expect(page.locator("#course")).to_contain_text("Drinking and other fluids are not counted")
    page.get_by_label("For", exact=True).select_option("bed-05")
    expect(page.locator("#course")).to_contain_text("Bed 05")
    expect(page.locator("#course")).not_to_contain_text("Lost besides")
    expect(page).not_to_have_url(re.compile("gastric=60"))


def test_a_short_standing_leaves_only_the_highest_limit(open_page: OpenPage) -> None:
    page = open_page(TWO)
    expect(page.locator("#sodium")).to_contain_text("+8 in 24 h")
    page.get_by_label("Low or high sodium for").select_option("acute")
    expect(page.locator("#sodium")).to_contain_text("only the highest limit is kept")
    expect(page.locator("#sodium")).not_to_contain_text("+8 in 24 h")


def test_everything_works_without_script(open_page: OpenPage) -> None:
    page = open_page("/predict", script=False)
    page.get_by_label("Fluid A").select_option("sodium-chloride-3")
    page.get_by_role("textbox", name="Volume").fill("500")
    page.get_by_label("Over").fill("240")
    page.get_by_label("Weight").fill("60")
    page.get_by_role("textbox", name="Sodium").fill("116")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("#course")).to_contain_text("Sodium again in")
    page.locator("summary", has_text="Figures of Sodium").click()
    expect(page.get_by_role("row", name=re.compile("^now")).first).to_contain_text("116")


@pytest.mark.parametrize(
    ("viewport", "look"), [(PHONE, "auto"), (WALL, "projector")], ids=["phone", "wall"]
)
def test_no_word_of_a_picture_is_cut_or_covers_another(
    open_page: OpenPage, too_wide: TooWide, viewport: dict[str, int], look: str
) -> None:
    page = open_page(TWO, viewport=viewport)
    page.evaluate("look => document.documentElement.dataset.look = look", look)
    assert too_wide(page) == 0
    for picture in page.evaluate(BOXES):
        left, top, right, bottom = picture["svg"]
        texts = picture["texts"]
        for at, one in enumerate(texts):
            x1, y1, x2, y2 = one["box"]
            assert x1 >= left - 1, one
            assert x2 <= right + 1, one
            assert y1 >= top - 1, one
            assert y2 <= bottom + 1, one
            for two in texts[at + 1 :]:
                a1, b1, a2, b2 = two["box"]
                across, down = min(x2, a2) - max(x1, a1), min(y2, b2) - max(y1, b1)
                assert across <= 3 or down <= 5, (one["words"], two["words"])


@pytest.mark.parametrize("look", ["light", "night", "projector"])
def test_nothing_stands_in_anyone_s_way(open_page: OpenPage, barriers: Barriers, look: str) -> None:
    for path in (TWO, "/predict?patient=bed-04", "/predict"):
        page = open_page(path)
        page.evaluate("look => document.documentElement.dataset.look = look", look)
        assert barriers(page) == [], path
