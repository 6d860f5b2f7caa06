"""An educator checks a prediction with a pencil: from the figure to the formula and its cases."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
PHONE = {"width": 390, "height": 800}
DESK = {"width": 1280, "height": 900}
LOW = "result_sodium=118&result_chloride=84"
TRIED = f"/predict?fluid=sodium-chloride-3&volume=500&minutes=240&weight=60&{LOW}"


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_figure_worked_by_hand_leads_to_its_formula(open_page: OpenPage, script: bool) -> None:
    page = open_page(TRIED, script=script)
    by_hand = page.locator("#by_hand")
    expect(by_hand).to_contain_text("Sodium deficit to")
    by_hand.get_by_role("link", name="Change of sodium by the volume").click()
    formula = page.locator("#sodium-change")
    expect(formula).to_contain_text("ΔNa = V × (salt − Na) ÷ (body water + V)")
    expect(formula).to_be_in_viewport()
    formula.get_by_text("cases worked").click()
    expect(formula.get_by_text("16.71")).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_the_formulas_can_be_read_on_any_screen(
    open_page: OpenPage, barriers: Barriers, viewport: dict[str, int], scheme: str
) -> None:
    page = open_page("/predict/formulas", viewport=viewport, color_scheme=scheme)
    for cases in page.get_by_text("cases worked").all()[:3]:
        cases.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert barriers(page) == []


def test_every_case_is_on_paper(open_page: OpenPage) -> None:
    page = open_page("/predict/formulas")
    page.emulate_media(media="print")
    expect(page.get_by_text("16.71")).to_be_visible()
    expect(page.get_by_text("19:12").first).to_be_visible()
