"""A pharmacist asks how far to trust a finding: its receipt, and how good the review is."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}


def test_a_finding_of_a_patient_is_taken_away_as_a_file(
    open_page: OpenPage, barriers: Barriers, tmp_path: Path
) -> None:
    page = open_page("/patients/bed-04")
    page.get_by_text("Why, limits and source").first.click()
    assert barriers(page) == []
    with page.expect_download() as download:
        page.get_by_role("link", name="Receipt as a file").first.click()
    download.value.save_as(tmp_path / "receipt.json")
    receipt = json.loads((tmp_path / "receipt.json").read_text("utf-8"))
    assert receipt["about"]["bed"] == "04"


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_finding_of_an_order_being_written_is_taken_away_as_a_file(
    open_page: OpenPage, settled: Callable[[Page], None], script: bool
) -> None:
    page = open_page("/orders/new", script=script)
    page.get_by_label("Fluid").fill("0.9% sodium chloride")
    page.get_by_label("Volume").fill("1000")
    page.get_by_label("Rate").fill("125")
    page.get_by_label("Additive 1").fill("potassium chloride")
    page.get_by_label("Amount 1").fill("40")
    page.get_by_label("Potassium").fill("6.1")
    if not script:
        page.get_by_role("button", name="Review this order").click()
    settled(page)
    expect(page.locator("#review-headline")).to_contain_text("critical")
    page.get_by_text("Why, limits and source").first.click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Receipt as a file").first.click()
    assert download.value.suggested_filename.endswith("-001-k-hyper.json")
    expect(page.get_by_label("Fluid")).to_have_value("0.9% sodium chloride")


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_how_good_it_is_can_be_read_on_any_screen(
    open_page: OpenPage, barriers: Barriers, viewport: dict[str, int]
) -> None:
    page = open_page("/rules", viewport=viewport)
    page.get_by_role("link", name="How good is it?").click()
    expect(page.get_by_role("heading", name="How good is it?")).to_be_visible()
    expect(page.get_by_text("No clinician has reviewed the cases.")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert barriers(page) == []
