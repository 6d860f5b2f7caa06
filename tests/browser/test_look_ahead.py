"""What an order will do stands beside it as it is written, beside fluids compared, and with what
runs; drawn when asked for, and an ordinary link without script.
"""

import re
from collections.abc import Callable
from functools import partial

import pytest
from playwright.sync_api import Page, Request, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]
Settled = Callable[[Page], None]

ORDER = "/orders/new?patient=bed-04&fluid=0.9%25+sodium+chloride&volume=1000&rate=100"
COMPARE = "/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers&patient=bed-04"
PATIENT = "/patients/bed-11"
SHORT = "/predict/ahead?patient=bed-06&fluid=sodium-chloride-3&volume=150&rate=600"
SHOWN = "#ahead svg"
SLOWLY_MS = 60
PHONE = {"width": 360, "height": 740}
FOLDED = ".ahead-fold > summary"
BOXES = """() => [...document.querySelectorAll('.ahead svg')].map(svg => {
  const box = r => [r.left, r.top, r.right, r.bottom];
  return {figure: box(svg.closest('figure').getBoundingClientRect()),
          texts: [...svg.querySelectorAll('text')]
            .map(t => ({words: t.textContent, box: box(t.getBoundingClientRect())}))};
})"""


def asked(page: Page) -> list[str]:
    """The addresses of short predictions that a page asks for from now on."""
    addresses: list[str] = []

    def note(addresses: list[str], request: Request) -> None:
        if "/predict/ahead" in request.url:
            addresses.append(request.url)

    page.on("request", partial(note, addresses))
    return addresses


def test_what_an_order_will_do_follows_what_is_typed(open_page: OpenPage) -> None:
    page = open_page("/orders/new?patient=bed-04")
    expect(page.locator("#ahead")).to_have_count(0)
    page.get_by_role("combobox", name="Fluid").fill("0.9% sodium chloride")
    page.get_by_role("textbox", name="Volume").fill("1000")
    page.get_by_role("textbox", name="Rate").fill("100")
    expect(page.locator("#ahead")).to_contain_text("2,400 mL over 24 h, 100 mL/h")
    expect(page.locator(SHOWN).first).to_be_visible()
    page.get_by_role("textbox", name="Rate").fill("250")
    expect(page.locator("#ahead")).to_contain_text("6,000 mL over 24 h, 250 mL/h")
    page.get_by_role("combobox", name="Fluid").fill("moondust")
    expect(page.locator("#ahead")).to_have_count(0)


def test_typing_fast_asks_once(open_page: OpenPage, settled: Settled) -> None:
    page = open_page(ORDER)
    expect(page.locator(SHOWN).first).to_be_visible()
    addresses = asked(page)
    rate = page.get_by_role("textbox", name="Rate")
    rate.fill("")
    rate.press_sequentially("123.45", delay=SLOWLY_MS)
    expect(page.locator("#ahead")).to_contain_text("123.5 mL/h")
    settled(page)
    assert [address for address in addresses if "rate=123.45" in address]
    assert len(addresses) <= 3


def test_the_last_curves_stand_until_the_next_are_drawn(open_page: OpenPage) -> None:
    page = open_page(ORDER)
    expect(page.locator(SHOWN).first).to_be_visible()
    page.route("**/predict/ahead?*", lambda route: None)
    page.get_by_role("textbox", name="Rate").fill("50")
    expect(page.locator("#ahead.ahead-asks")).to_have_count(1)
    expect(page.locator("#ahead-last svg").first).to_be_visible()
    expect(page.get_by_role("link", name="What will it do, over hours?")).to_be_visible()


def test_two_fluids_lie_on_the_same_axes_beside_the_patient_s_results(open_page: OpenPage) -> None:
    page = open_page(COMPARE)
    expect(page.locator(SHOWN).first).to_be_visible()
    pictures = page.locator(SHOWN).count()
    expect(page.locator("#ahead .curves-line-B")).to_have_count(pictures)
    assert page.locator("#ahead .curves-dot").count() > 0
    page.get_by_label("Rate, mL/h").fill("500")
    page.get_by_label("Bag, mL").click()
    expect(page.locator("#ahead")).to_contain_text("500 mL over 1 h, 500 mL/h")


def test_with_nobody_chosen_a_usual_adult_is_said(open_page: OpenPage) -> None:
    page = open_page("/compare?fluid=sodium-chloride-0.9&fluid=lactated-ringers")
    expect(page.locator("#ahead")).to_contain_text("Somebody out of a textbook, of 70 kg")


def test_all_that_runs_is_open_and_one_order_is_drawn_when_it_is_opened_and_once(
    open_page: OpenPage, settled: Settled
) -> None:
    page = open_page(PATIENT)
    expect(page.locator("#ahead-all svg").first).to_be_visible()
    expect(page.locator("#ahead-all")).to_contain_text("other things that run")
    expect(page.locator("#line-o1 p").first).to_contain_text("By ")
    settled(page)
    addresses = asked(page)
    page.locator(FOLDED).nth(1).click()
    expect(page.locator("#ahead-o1 svg").first).to_be_visible()
    page.locator(FOLDED).nth(1).click()
    page.locator(FOLDED).nth(1).click()
    page.locator(FOLDED).last.click()
    expect(page.locator("#ahead-a2")).to_contain_text("By itself")
    settled(page)
    assert len(addresses) == 2


@pytest.mark.parametrize("path", [ORDER, COMPARE])
def test_without_script_a_link_leads_to_the_same(open_page: OpenPage, path: str) -> None:
    page = open_page(path, script=False)
    page.get_by_role("link", name=re.compile("^What will .* do, over hours")).click()
    expect(page.locator(SHOWN).first).to_be_visible()
    page.locator("summary", has_text="What was assumed").click()
    expect(page.locator(".ahead-more")).to_contain_text("Not modelled")
    page.get_by_role("link", name="The whole prediction").click()
    expect(page.locator("#course svg").first).to_be_visible()


def test_without_script_what_runs_is_a_link_as_well(open_page: OpenPage) -> None:
    page = open_page(PATIENT, script=False)
    page.get_by_role("link", name="What will all that runs do, together?").click()
    expect(page.locator("#ahead")).to_contain_text("other things that run")


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 900}], ids=["phone", "desk"])
@pytest.mark.parametrize("path", [ORDER, COMPARE, PATIENT], ids=["order", "compare", "patient"])
def test_no_word_is_cut_and_no_page_too_wide(
    open_page: OpenPage, too_wide: TooWide, settled: Settled, path: str, viewport: dict[str, int]
) -> None:
    page = open_page(path, viewport=viewport)
    for fold in reversed(page.locator(".ahead-fold:not([open]) > summary").all()):
        fold.click()
    expect(page.locator(".ahead svg").first).to_be_visible()
    settled(page)
    assert too_wide(page) == 0
    pictures = page.evaluate(BOXES)
    assert pictures
    for picture in pictures:
        left, _, right, _ = picture["figure"]
        for one in picture["texts"]:
            x1, _, x2, _ = one["box"]
            assert x1 >= left - 4, one
            assert x2 <= right + 4, one


@pytest.mark.parametrize("look", ["light", "night"])
def test_nothing_stands_in_anyone_s_way(
    open_page: OpenPage, barriers: Barriers, settled: Settled, look: str
) -> None:
    for path in (ORDER, COMPARE, PATIENT, SHORT):
        page = open_page(path)
        page.evaluate("look => document.documentElement.dataset.look = look", look)
        for fold in reversed(page.locator(".ahead-fold:not([open]) > summary").all()):
            fold.click()
        expect(page.locator(".ahead svg").first).to_be_visible()
        settled(page)
        assert barriers(page) == [], path


@pytest.mark.parametrize("bed", ["bed-05", "bed-12", "bed-18", "bed-22"])
def test_no_patient_s_page_scrolls_sideways_on_a_phone(
    open_page: OpenPage, too_wide: TooWide, settled: Settled, bed: str
) -> None:
    page = open_page(f"/patients/{bed}", viewport=PHONE)
    settled(page)
    assert too_wide(page) == 0
