"""A nurse asks where all the water and salt of a patient in intensive care comes from."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}


def patient_of(open_page: OpenPage, bed: str, viewport: dict[str, int]) -> Page:
    page = open_page("/", viewport=viewport)
    address = page.locator(f"#bed-{bed} a[href^='/patients/']").first.get_attribute("href")
    assert address
    page.goto(address)
    return page


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_every_source_is_read_without_a_sideways_scroll(
    open_page: OpenPage,
    barriers: Callable[[Page], list[str]],
    too_wide: Callable[[Page], int],
    viewport: dict[str, int],
) -> None:
    page = patient_of(open_page, "11", viewport)
    ledger = page.locator(".ledger")
    expect(ledger).to_contain_text("of the water")
    expect(ledger.get_by_role("rowheader", name="Flushes")).to_be_visible()
    expect(ledger.get_by_text("All of it in 24 h")).to_be_visible()
    expect(ledger.get_by_text("Needed in 24 h")).to_be_visible()
    assert too_wide(page) == 0
    assert barriers(page) == []


def test_what_could_not_be_counted_is_said_aloud(open_page: OpenPage) -> None:
    page = patient_of(open_page, "03", DESK)
    expect(page.locator(".ledger-sum")).to_contain_text("at least")
