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
NARROW = {"width": 390, "height": 800}
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
    page.get_by_role("textbox", name="Volume").fill("1000")
    page.get_by_label("Potassium chloride in A").fill("40")
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
    expect(page.get_by_label("Potassium chloride in A")).to_have_value(re.compile(r"^13\.3"))


def test_what_is_lost_is_typed_in_the_folded_part_and_stays_with_its_patient(
    open_page: OpenPage,
) -> None:
    page = open_page("/predict?patient=bed-04")
    page.locator("summary", has_text="Losses, insulin, what follows").click()
    page.get_by_label("Urine mL/h").fill("150")
    page.get_by_label("Gastric").fill("60")
    page.get_by_label("Gastric").blur()
    expect(page.locator("#course")).to_contain_text("Lost besides: gastric 60 mL/h.")
    expect(page.locator("#course")).to_contain_text("Drinking")
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


def test_what_is_typed_is_answered_without_leaving_the_field_and_told_aloud(
    open_page: OpenPage,
) -> None:
    page = open_page("/predict?fluid=sodium-chloride-0.9&volume=1000&minutes=240&weight=70&age=40")
    page.get_by_label("Age").fill("41")
    page.get_by_label("Weight kg").press_sequentially("0")
    page.get_by_label("Weight kg").fill("58")
    expect(page.locator("#given-head")).to_contain_text("textbook")
    expect(page).to_have_url(re.compile("weight=58"))
    expect(page.locator("#course [role=status]")).to_contain_text("Worked out. In 4 h, bag in:")


def test_on_a_phone_the_form_folds_once_there_is_an_answer(open_page: OpenPage) -> None:
    page = open_page(TWO, viewport=NARROW)
    expect(page.get_by_label("Weight kg")).not_to_be_visible()
    page.locator("summary", has_text="Change what is tried").click()
    page.get_by_label("Weight kg").fill("70")
    expect(page).to_have_url(re.compile("weight=70"))
    bar = page.locator(".top-places a")
    tops = {box["y"] for one in bar.all() if (box := one.bounding_box())}
    assert len(tops) == 1
    expect(page.locator(".top-places a[aria-current=page]")).to_have_text("Predict")


def test_a_wall_begins_with_a_sentence_and_two_whole_pictures(
    open_page: OpenPage, too_wide: TooWide
) -> None:
    page = open_page(TWO, viewport=WALL)
    page.get_by_role("button", name="Wall").click()
    expect(page.locator("html")).to_have_attribute("data-look", "projector")
    expect(page.locator("#wall h2")).to_contain_text("mL in 4 h: ")
    pictures = page.locator("#wall svg")
    expect(pictures).to_have_count(2)
    for picture in pictures.all():
        box = picture.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= WALL["height"]
    assert too_wide(page) == 0


def test_links_beside_figures_are_high_enough_to_hit(open_page: OpenPage) -> None:
    page = open_page(TWO)
    for link in page.locator(":is(.by-hand, .predict-words) a").all():
        box = link.bounding_box()
        assert box is not None
        assert box["height"] >= 24


def test_paper_says_when_it_was_shown_and_keeps_no_dead_words(open_page: OpenPage) -> None:
    page = open_page(TWO)
    page.emulate_media(media="print")
    expect(page.locator(".print-only")).to_be_visible()
    expect(page.locator(".print-only")).to_contain_text(
        re.compile(r"Shown \w{3} \d+ \w{3} 20\d\d, ")
    )
    expect(page.get_by_role("link", name="Check it as an order").first).not_to_be_visible()
