"""A pharmacist tells that a fluid is out, and nobody on the ward is offered it any more."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
Tell = Callable[..., Page]
PHONE = {"width": 360, "height": 740}
# Offered beside red cells once the calcium-free fluid of the demo unit is out.
WITH_PHOSPHATE = "multiple-electrolytes-type-1-phosphate"
NAME = "multiple electrolytes type 1 with phosphate, pH 7.4"
BESIDE_BLOOD = (
    "/orders/new?patient=bed-09&fluid=lactated+Ringer%27s+(US)&volume=1000&rate=100"
    "&lumen=right+elbow&instead=o1"
)
# Longer than the half minute after which a page asks again.
A_WHILE_MS = 31_000


def ways_out(page: Page) -> str:
    """The ways out of the order's critical finding."""
    finding = page.locator("#review .finding-critical").first
    if not finding.locator("details").first.get_attribute("open"):
        finding.locator("summary").first.click()
    return finding.locator("dt", has_text="Ways out").locator("xpath=..").inner_text()


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_what_is_told_to_be_out_is_no_longer_offered_for_an_order(
    open_page: OpenPage, barriers: Barriers, tell: Tell, *, script: bool
) -> None:
    assert NAME in ways_out(open_page(BESIDE_BLOOD, script=script))
    card = tell(WITH_PHOSPHATE, "out", "lorry late", script=script)
    expect(card.locator("#stock")).to_contain_text("out since 07:05")
    expect(card.locator("#stock")).to_contain_text(
        "Lorry late. Told by Test nurse pharmacist prescriber"
    )
    if script:
        assert barriers(card) == []
    left = ways_out(open_page(BESIDE_BLOOD, script=script))
    assert NAME not in left
    assert "0.9% sodium chloride" in left
    assert "on the ward" in left


def test_a_reason_that_is_missing_is_asked_for_beside_the_field_and_nothing_typed_is_lost(
    open_page: OpenPage, barriers: Barriers, tell: Tell
) -> None:
    card = tell(WITH_PHOSPHATE, "short")
    expect(card.locator("#error-note")).to_contain_text("why it is short")
    expect(card.get_by_label("Where it is", exact=True)).to_have_value("short")
    assert barriers(card) == []
    card.get_by_label("Why, and until when").fill("six bags left")
    card.get_by_label("Why, and until when").press("Enter")
    expect(card.locator("#stock-head")).to_contain_text("short since 07:05")


def ticking(page: Page) -> Page:
    """The page opened anew on a clock that the test moves."""
    page.clock.install()
    page.reload()
    return page


def test_an_order_page_that_stands_open_stops_offering_what_is_out_and_keeps_what_was_typed(
    open_page: OpenPage, tell: Tell, barriers: Barriers
) -> None:
    page = ticking(open_page(BESIDE_BLOOD))
    page.get_by_label("Rate").fill("90")
    page.clock.run_for(1000)
    expect(page.locator(".orders-back")).to_contain_text("90 mL/h")
    assert NAME in ways_out(page)
    tell(WITH_PHOSPHATE, "out", "lorry late")
    with page.expect_response("**/orders/review"):
        page.clock.run_for(A_WHILE_MS)
    expect(page.locator("#news")).to_contain_text("out since 07:05")
    expect(page.locator("#review")).not_to_contain_text(NAME)
    expect(page.get_by_label("Rate")).to_have_value("90")
    assert barriers(page) == []


@pytest.mark.parametrize(
    "path", ["/", "/patients/bed-09", "/catalogue", f"/compare?fluid={WITH_PHOSPHATE}"]
)
def test_every_page_that_stands_open_says_what_is_out_and_can_be_had_anew(
    open_page: OpenPage, tell: Tell, too_wide: Callable[[Page], int], path: str
) -> None:
    page = ticking(open_page(path, viewport=PHONE))
    expect(page.locator("#news")).to_have_text("")
    tell(WITH_PHOSPHATE, "out", "lorry late")
    page.clock.run_for(A_WHILE_MS)
    expect(page.locator("#news")).to_contain_text(f"{NAME}: out since 07:05. Lorry late.")
    assert too_wide(page) <= 0
    page.get_by_role("link", name="Look again", exact=True).first.click()
    expect(page.locator("#news")).to_have_text("")
    assert page.url.endswith(path)


def test_an_open_comparison_marks_what_is_out(open_page: OpenPage, tell: Tell) -> None:
    page = ticking(open_page(f"/compare?fluid=dextrose-5&fluid={WITH_PHOSPHATE}"))
    expect(page.locator(".chosen .stock-gone")).to_have_count(0)
    tell(WITH_PHOSPHATE, "out", "lorry late")
    page.clock.run_for(A_WHILE_MS)
    expect(page.locator(".chosen .stock-gone")).to_have_text("out since 07:05")
    expect(page.locator(".amounts thead .stock-gone").first).to_be_visible()
