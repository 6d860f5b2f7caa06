"""A prescriber writes an order and is told the one thing not thought of."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]


def type_order(page: Page, rate: str = "125") -> None:
    page.get_by_label("Fluid", exact=True).fill("0.9% sodium chloride")
    page.get_by_label("Volume").fill("1000")
    page.get_by_label("Additive 1").fill("potassium chloride")
    page.get_by_label("Amount 1").fill("40")
    page.get_by_label("Rate").fill(rate)


def type_patient(page: Page) -> None:
    page.get_by_label("Age").fill("61")
    page.get_by_label("Weight").fill("70")
    page.get_by_label("Potassium").fill("6.1")
    page.get_by_label("Results taken").fill("2")


def test_findings_come_as_one_types(open_page: OpenPage, barriers: Barriers) -> None:
    page = open_page("/orders/new")
    type_order(page)
    expect(page.locator("#review .orders-part").first).to_be_visible()
    type_patient(page)
    expect(page.locator("#review-headline")).to_contain_text("critical")
    expect(page.locator("#review")).to_contain_text("6.1")
    expect(page.get_by_label("Fluid", exact=True)).to_have_value("0.9% sodium chloride")
    assert barriers(page) == []


def test_what_was_typed_keeps_its_place_and_the_cursor_while_findings_change(
    open_page: OpenPage,
) -> None:
    page = open_page("/orders/new")
    type_order(page)
    with page.expect_response("**/orders/review"):
        page.get_by_label("Conditions").press_sequentially("dialysis")
    expect(page.locator("#review")).to_contain_text("dialysis")
    expect(page.get_by_label("Conditions")).to_be_focused()


def test_a_letter_in_a_number_is_told_beside_the_field_and_mended(open_page: OpenPage) -> None:
    page = open_page("/orders/new")
    type_order(page, rate="12o")
    told = page.locator("#error-rate")
    expect(told).to_contain_text("Rate: “12o” is not accepted")
    expect(page.get_by_label("Rate")).to_have_value("12o")
    page.get_by_label("Rate").fill("120")
    expect(told).to_be_empty()
    expect(page.locator("#review-headline")).not_to_contain_text("Not reviewed")


def test_a_patient_of_the_unit_brings_what_is_known(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/orders/new")
    page.get_by_label("For a patient of the unit").select_option("bed-04")
    page.get_by_role("button", name="Take this patient").click()
    expect(page.locator(".orders-picked")).to_be_focused()
    type_order(page)
    expect(page.locator("#review-headline")).to_contain_text("critical")
    expect(page.locator("#review")).to_contain_text("A day of all orders")
    page.get_by_label("Instead of").select_option(index=1)
    expect(page.locator("#review")).not_to_contain_text("A day of all orders")
    assert barriers(page) == []


def test_without_script_an_ordinary_button_reviews_and_keeps_all_that_was_typed(
    open_page: OpenPage,
) -> None:
    page = open_page("/orders/new", script=False)
    type_order(page)
    type_patient(page)
    page.get_by_role("button", name="Review this order").click()
    expect(page.locator("#review-headline")).to_contain_text("critical")
    expect(page.get_by_label("Rate")).to_have_value("125")
    expect(page.get_by_label("Weight")).to_have_value("70")


def test_an_order_goes_by_keyboard_alone(open_page: OpenPage) -> None:
    page = open_page("/orders/new")
    page.get_by_label("Fluid", exact=True).focus()
    for text in ("0.9% sodium chloride", "1000", "125", "", "potassium chloride", "40"):
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    expect(page.get_by_label("Amount 1")).to_have_value("40")
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#review .orders-part").first).to_be_visible()


def test_the_link_to_share_opens_the_same_order_without_the_patient(
    open_page: OpenPage, settled: Callable[[Page], None]
) -> None:
    page = open_page("/orders/new")
    type_order(page)
    type_patient(page)
    settled(page)
    expect(page.locator("#review-headline")).to_contain_text("critical")
    page.get_by_role("link", name="Link to this order").click()
    expect(page.get_by_label("Rate")).to_have_value("125")
    expect(page.get_by_label("Weight")).to_have_value("")
    expect(page.locator("#review")).to_contain_text("0.9% sodium chloride")


def test_a_vague_name_is_settled_by_one_press(open_page: OpenPage) -> None:
    page = open_page("/orders/new?patient=bed-04")
    type_order(page)
    page.get_by_label("Fluid", exact=True).fill("Ringer's")
    expect(page.locator("#review-headline")).to_contain_text("Choose which fluid is meant")
    page.get_by_role("button", name="compound sodium lactate").click()
    expect(page.get_by_label("Fluid", exact=True)).to_have_value(
        "compound sodium lactate (Hartmann's solution)"
    )
    expect(page.locator("#review-headline")).to_contain_text("critical")
    expect(page.locator("#review-headline")).to_be_focused()


def test_a_vague_name_is_settled_without_script(open_page: OpenPage) -> None:
    page = open_page("/orders/new?fluid=Ringer%27s&volume=1000&rate=125", script=False)
    page.get_by_role("button", name="lactated Ringer's (US)", exact=True).click()
    expect(page.get_by_label("Fluid", exact=True)).to_have_value("lactated Ringer's (US)")
    expect(page.get_by_label("Rate")).to_have_value("125")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_an_order_stays_when_a_patient_is_taken_and_let_go(
    open_page: OpenPage, *, script: bool
) -> None:
    page = open_page("/orders/new", script=script)
    type_order(page)
    page.get_by_label("For a patient of the unit").select_option("bed-04")
    page.get_by_role("button", name="Take this patient").click()
    expect(page.locator(".orders-picked")).to_contain_text("Bed 04")
    expect(page.get_by_label("Rate")).to_have_value("125")
    expect(page.locator("#review-headline")).to_contain_text("critical")
    page.get_by_role("button", name="Type a patient instead").click()
    expect(page.get_by_label("Weight")).to_be_visible()
    expect(page.get_by_label("Rate")).to_have_value("125")


def test_enter_reviews_and_takes_no_patient(open_page: OpenPage) -> None:
    page = open_page("/orders/new", script=False)
    page.get_by_label("For a patient of the unit").select_option("bed-04")
    type_order(page)
    page.get_by_label("Rate").press("Enter")
    expect(page.locator("#review")).to_contain_text("Read back")
    expect(page.locator(".orders-picked")).to_have_count(0)
