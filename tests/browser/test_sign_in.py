"""Signing in and out, and being locked in the middle of something, in a real browser."""

import re
from collections.abc import Callable
from datetime import timedelta

import pytest
from playwright.sync_api import Page, expect

from app.security.acts import Role
from app.storage.database import transaction
from app.storage.people.demo import DEMO_PASSWORD
from app.storage.people.sessions import held_by
from app.storage.people.tables import SessionRow
from tests.browser.conftest import OpenPage, Served
from tests.people import COOKIE

Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]
PHONE = {"width": 390, "height": 844}
NOBODY: tuple[Role, ...] = ()


def enter(page: Page, name: str = "nurse", password: str = DEMO_PASSWORD) -> None:
    page.get_by_label("Name you sign in by").fill(name)
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_role("button", name="Sign in", exact=True).click()


def leave_alone(served: Served, page: Page, hours: float = 0) -> None:
    """Nobody touches this browser for a quarter of an hour, or so many hours pass."""
    (cookie,) = [one for one in page.context.cookies() if one["name"] == COOKIE]
    engine = served.app.state.engine
    held = held_by(engine, cookie["value"])
    assert held is not None
    with transaction(engine) as session:
        row = session.get(SessionRow, held.session_id)
        assert row is not None
        row.seen_at = row.seen_at - timedelta(minutes=15)
        row.begun_at = row.begun_at - timedelta(hours=hours)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_page_asked_for_signed_out_is_there_after_signing_in(
    open_page: OpenPage, barriers: Barriers, *, script: bool
) -> None:
    page = open_page("/patients/bed-04#orders", roles=NOBODY, status=401, script=script)
    expect(page.get_by_label("Name you sign in by")).to_be_focused()
    if script:
        assert barriers(page) == []
    enter(page)
    expect(page).to_have_url(re.compile(r"/patients/bed-04#orders$"))
    expect(page.locator(".menu-name")).to_have_text("Ines Vale")


def test_by_keyboard_alone_one_comes_in_and_goes_out(open_page: OpenPage) -> None:
    page = open_page("/sign-in", roles=NOBODY)
    page.keyboard.type("nurse")
    page.keyboard.press("Tab")
    page.keyboard.type(DEMO_PASSWORD)
    page.keyboard.press("Enter")
    expect(page.locator(".shift")).to_be_visible()
    page.locator(".menu-fold summary").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Sign out").focus()
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"/sign-in$"))


def test_a_wrong_password_says_so_and_the_name_stays(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/", roles=NOBODY, status=401)
    enter(page, "pharmacist2", "not this")
    expect(page.get_by_role("alert")).to_contain_text("not right")
    expect(page.get_by_label("Name you sign in by")).to_have_value("pharmacist2")
    expect(page.get_by_label("Password", exact=True)).to_be_focused()
    assert barriers(page) == []
    enter(page, "pharmacist2")
    expect(page.locator(".menu-name")).to_have_text("Joakim Lund")


def test_a_demo_person_is_one_tap_away_on_a_phone(
    open_page: OpenPage, barriers: Barriers, too_wide: TooWide
) -> None:
    page = open_page("/", roles=NOBODY, status=401, viewport=PHONE, color_scheme="dark")
    assert too_wide(page) <= 0
    assert barriers(page) == []
    tap = page.get_by_role("button", name="Tomas Brandt")
    box = tap.bounding_box()
    assert box is not None
    assert box["height"] >= 44
    tap.click()
    expect(page.locator(".shift")).to_be_visible()
    page.locator(".menu-fold summary").click()
    assert too_wide(page) <= 0
    assert barriers(page) == []


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_lock_leads_back_to_the_same_row(
    open_page: OpenPage, served: Served, *, script: bool
) -> None:
    page = open_page("/#bed-15", roles=(Role.NURSE,), script=script)
    leave_alone(served, page)
    page.reload()
    expect(page.get_by_role("heading", name="Locked")).to_be_visible()
    expect(page.locator("body")).not_to_contain_text("Hypotonic")
    page.get_by_label("Password", exact=True).fill("wrong")
    page.get_by_role("button", name="Unlock").click()
    expect(page.get_by_role("alert")).to_contain_text("not right")
    expect(page).to_have_url(re.compile(r"/#bed-15$"))


def unlockable(open_page: OpenPage, path: str, **how: object) -> Page:
    """A page of the demo's nurse, whose password is known."""
    page = open_page("/sign-in", roles=NOBODY, **how)
    enter(page)
    page.goto(path)
    return page


def test_locked_in_the_middle_of_an_order_nothing_typed_is_lost(
    open_page: OpenPage, served: Served, barriers: Barriers
) -> None:
    page = unlockable(open_page, "/orders/new")
    page.get_by_label("Fluid", exact=True).fill("0.9% sodium chloride")
    page.get_by_label("Volume").fill("1000")
    expect(page.locator("#review")).to_contain_text("0.9% sodium chloride")
    leave_alone(served, page)
    page.get_by_label("Rate").press_sequentially("125")
    panel = page.get_by_role("dialog")
    expect(panel).to_contain_text("Locked")
    expect(panel).to_contain_text("Ines Vale")
    expect(panel.get_by_label("Password", exact=True)).to_be_focused()
    expect(page.locator("main")).to_be_hidden()
    assert barriers(page) == []
    panel.get_by_label("Password", exact=True).fill("not this")
    panel.get_by_role("button", name="Unlock").click()
    expect(panel.get_by_role("alert")).to_contain_text("not right")
    panel.get_by_label("Password", exact=True).fill(DEMO_PASSWORD)
    panel.get_by_role("button", name="Unlock").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.get_by_label("Fluid", exact=True)).to_have_value("0.9% sodium chloride")
    expect(page.get_by_label("Volume")).to_have_value("1000")
    expect(page.get_by_label("Rate")).to_have_value("125")
    page.get_by_label("Over").fill("8")
    expect(page.locator("#review")).to_contain_text("125 mL/h")


def test_another_person_does_not_go_on_with_the_page(open_page: OpenPage, served: Served) -> None:
    page = unlockable(open_page, "/orders/new")
    page.get_by_label("Fluid", exact=True).fill("0.9% sodium chloride")
    leave_alone(served, page, hours=12)
    page.get_by_label("Volume").press_sequentially("500")
    panel = page.get_by_role("dialog")
    expect(panel).to_contain_text("You are signed out")
    panel.get_by_label("Name you sign in by").fill("pharmacist")
    panel.get_by_label("Password", exact=True).fill(DEMO_PASSWORD)
    panel.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("dialog")).to_contain_text("This page is Ines Vale’s")
    expect(page.locator("main")).to_be_hidden()
    page.get_by_role("link", name="Go on as Mirela Stancu").click()
    expect(page.locator(".menu-name")).to_have_text("Mirela Stancu")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_form_sent_when_locked_is_kept_and_sent_by_one_button(
    open_page: OpenPage, served: Served, barriers: Barriers, *, script: bool
) -> None:
    page = unlockable(open_page, "/catalogue/dextrose-50", script=script)
    page.locator("#stock summary").click()
    page.get_by_label("Where it is", exact=True).select_option("short")
    page.get_by_label("Why, and until when").fill("six left")
    leave_alone(served, page)
    page.get_by_role("button", name="Tell everyone").click()
    expect(page.get_by_role("heading", name="Locked")).to_be_visible()
    expect(page.locator("main")).to_contain_text("Nothing was sent yet.")
    page.get_by_label("Password", exact=True).fill(DEMO_PASSWORD)
    page.get_by_role("button", name="Unlock").click()
    expect(page.get_by_role("heading", name="Not sent yet")).to_be_visible()
    expect(page.locator(".kept-rows")).to_contain_text("six left")
    if script:
        assert barriers(page) == []
    page.get_by_role("button", name="Send it now").click()
    expect(page.locator("#stock")).to_contain_text("Six left. Told by Ines Vale")
    page.locator("#stock summary").click()
    page.get_by_label("Where it is", exact=True).select_option("not told")
    page.get_by_role("button", name="Tell everyone").click()
    expect(page.locator("#stock-head")).to_contain_text("nobody has told")


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 900}])
def test_the_pages_of_accounts_are_in_nobodys_way(
    open_page: OpenPage, barriers: Barriers, too_wide: TooWide, viewport: dict[str, int]
) -> None:
    page = open_page("/accounts", roles=(Role.ADMINISTRATOR,), viewport=viewport)
    for path in ("/accounts", "/accounts/tokens", "/account", "/who-may"):
        page.goto(path)
        assert barriers(page) == [], path
        assert too_wide(page) <= 0, path
    page.goto("/accounts")
    page.get_by_role("link", name="Ines Vale").click()
    assert barriers(page) == []
    assert too_wide(page) <= 0


def test_a_wrong_role_is_told_whom_to_ask(open_page: OpenPage, barriers: Barriers) -> None:
    page = open_page("/", roles=(Role.EDUCATOR,), status=403)
    expect(page.locator("main")).to_contain_text("for the nurse, prescriber or pharmacist")
    expect(page.locator("main")).to_contain_text("Wanda Prill")
    assert barriers(page) == []
