"""A nurse asks what may share a lumen; a pharmacist closes a gap with a signed note."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
PHONE = {"width": 360, "height": 740}
SEVERAL = "/co-infusion?thing=ceftriaxone&thing=Hartmann%27s&thing=red+cells&thing=meropenem"
GAPS = "/co-infusion/gaps"


def ask(page: Page, *words: str) -> None:
    for label, each in zip(("First", "Second", "Third"), words, strict=False):
        page.get_by_label(label, exact=True).fill(each)
        page.get_by_label(label, exact=True).press("Tab")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_two_things_typed_are_told_in_a_sentence(
    open_page: OpenPage, barriers: Barriers, *, script: bool
) -> None:
    page = open_page("/co-infusion", script=script)
    ask(page, "CTX", "LR")
    if not script:
        page.get_by_role("button", name="Tell me").click()
    pair = page.locator("#pairs article")
    expect(pair).to_contain_text("Only one after the other: stop, flush fully")
    expect(pair).to_contain_text("To 28 days of age: Not both at all")
    expect(page.locator("#pairs .pair-ask")).to_contain_text("Ceftriaxone or another drug?")
    assert "thing=CTX" in page.url
    if script:
        assert barriers(page) == []


def test_several_things_are_counted_and_each_pair_can_be_opened(
    open_page: OpenPage, barriers: Barriers, too_wide: Callable[[Page], int]
) -> None:
    page = open_page(SEVERAL, viewport=PHONE)
    expect(page.locator(".pair-counts")).to_have_text(
        "6 pairs: 3 to keep apart, 1 only in turn, 2 nobody has told us of."
    )
    page.locator("article summary").first.click()
    expect(page.locator(".pair-fact").first).to_be_visible()
    assert too_wide(page) <= 0
    assert barriers(page) == []


def test_a_gap_is_drawn_as_one_and_says_so_in_the_dark_too(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/co-infusion?thing=meropenem&thing=furosemide", color_scheme="dark")
    line = page.locator(".pair-gap .pair-line")
    expect(line).to_have_text("Nobody has told us of these two: keep them apart.")
    assert line.evaluate("e => getComputedStyle(e).borderTopStyle") == "dashed"
    assert barriers(page) == []


def test_what_is_from_memory_asks_for_pharmacy_before_it_says_may(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/co-infusion?thing=insulin&thing=amiodarone&thing=saline")
    pair = page.locator("article").filter(has_text="from memory they may")
    expect(pair.first.locator(".pair-line")).to_contain_text("Confirm with pharmacy first:")
    expect(pair.first.locator(".pair-sign-unseen")).to_be_visible()
    expect(page.locator(".pair-sign-may")).to_have_count(0)
    assert barriers(page) == []


def test_on_a_wall_the_answer_stands_above_the_form(open_page: OpenPage) -> None:
    page = open_page("/co-infusion?thing=insulin&thing=amiodarone")
    page.get_by_role("button", name="Wall").click()
    expect(page.locator("html")).to_have_attribute("data-look", "projector")
    answer = page.locator(".pair-line").bounding_box()
    form = page.locator(".pair-form").bounding_box()
    assert answer is not None
    assert form is not None
    assert answer["y"] < form["y"]


def test_paper_holds_what_is_behind_every_pair(open_page: OpenPage) -> None:
    page = open_page(SEVERAL)
    page.emulate_media(media="print")
    expect(page.get_by_role("button", name="Tell me")).to_be_hidden()
    expect(page.locator(".pair-fact").first).to_be_visible()


def test_a_gap_of_the_unit_is_closed_by_a_note_and_opened_again_when_it_is_taken_back(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page(GAPS)
    gap = page.get_by_role("row").filter(has_text="Paracetamol")
    expect(gap).to_have_count(1)
    assert barriers(page) == []
    gap.get_by_role("link").first.click()
    page.get_by_text("Sign a local note for these two").click()
    page.get_by_label("What was found or agreed").fill("the label names it as a diluent")
    page.get_by_label("Review date").fill("2031-09-01")
    page.get_by_role("button", name="Sign", exact=True).click()
    expect(page.locator(".field-error").filter(has_text="Accepted:")).to_have_count(1)
    assert barriers(page) == []
    page.get_by_label("Under which conditions").fill("by Y-site")
    page.get_by_role("button", name="Sign", exact=True).click()
    expect(page.locator(".pair-line")).to_contain_text(
        "local note by Test nurse pharmacist prescriber, nurse, prescriber and pharmacist, of 4"
    )
    assert barriers(page) == []
    expect(open_page(GAPS).get_by_text("Paracetamol")).to_have_count(0)
    page.get_by_text("Take this note back").click()
    page.get_by_label("Why it no longer holds").fill("new maker")
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator(".pair-note")).to_contain_text(
        "Taken back by Test nurse pharmacist prescriber"
    )
    expect(open_page(GAPS).get_by_text("Paracetamol")).to_have_count(1)
