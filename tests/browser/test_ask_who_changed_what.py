"""An auditor's question: who changed what, when, from what to what; and what may go wrong."""

import csv
import io
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from app.security.acts import Role
from app.storage.audit.trail import record
from app.storage.database import transaction
from tests.browser.conftest import Served

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}
LIMIT = "limit:k-hyper/potassium_high_mmol_l"
SENTENCE = "L. Novák approved limit k-hyper/potassium_high_mmol_l: 5.5 to 5.7 mmol/L."
PAGES = ["/audit", "/audit?who=nobody+at+all", "/hazards"]


@pytest.fixture(autouse=True, scope="module")
def approved(served: Served) -> None:
    """Two acts: one on content, one on people."""
    with transaction(served.app.state.engine) as session:
        at = datetime(2026, 3, 4, 7, 5, tzinfo=UTC)
        who = {"at": at, "who": "L. Novák", "account_id": "l.novak"}
        record(
            session, **who, act="approve-change", subject=LIMIT,  # type: ignore[arg-type]
            before={"value": 5.5}, after={"value": 5.7},
        )  # fmt: skip
        record(session, **who, act="account added", subject="account:k.osei")  # type: ignore[arg-type]


def test_a_change_of_a_limit_is_found_and_read_in_one_sentence(open_page: OpenPage) -> None:
    page = open_page("/audit?who=L.+Nov%C3%A1k")
    expect(page.get_by_role("heading", name="The chain is whole")).to_be_visible()
    page.get_by_label("Did what").select_option("approve-change")
    row = page.locator(".acts-row")
    expect(row).to_have_count(1)
    expect(row.locator(".acts-did")).to_have_text(SENTENCE)
    expect(page).to_have_url(re.compile("act=approve-change"))
    row.get_by_text("Before and after").click()
    expect(row.get_by_role("row", name="value 5.5 5.7")).to_be_visible()
    row.get_by_role("link").click()
    expect(page).to_have_url(re.compile("/rules/k-hyper$"))


def test_without_script_the_same_is_found_by_an_ordinary_button(open_page: OpenPage) -> None:
    page = open_page("/audit?who=L.+Nov%C3%A1k", script=False)
    page.get_by_label("To what").fill("limit:")
    page.get_by_role("button", name="Find").click()
    expect(page.locator(".acts-did")).to_have_text([SENTENCE])


def test_a_file_of_what_was_found_is_taken_away(open_page: OpenPage, tmp_path: Path) -> None:
    page = open_page("/audit?who=L.+Nov%C3%A1k")
    page.get_by_label("Did what").select_option("approve-change")
    expect(page.locator(".acts-row")).to_have_count(1)
    with page.expect_download() as taken:
        page.get_by_role("button", name="CSV").click()
    taken.value.save_as(tmp_path / "acts.csv")
    (row,) = csv.DictReader(io.StringIO((tmp_path / "acts.csv").read_text(), newline=""))
    assert row["subject"] == LIMIT
    page.goto("/audit")
    expect(page.locator(".acts-did").first).to_contain_text("exported the trail of acts")


def test_an_administrator_sees_acts_on_people_and_a_pharmacist_none(open_page: OpenPage) -> None:
    acts = open_page("/audit", roles=(Role.ADMINISTRATOR,)).locator(".acts-did")
    expect(acts.filter(has_text="the account k.osei")).to_have_count(1)
    page = open_page("/audit", roles=(Role.PHARMACIST,))
    expect(page.locator(".acts-did").filter(has_text="the account k.osei")).to_have_count(0)
    expect(page.get_by_text("Acts on accounts are the administrator’s")).to_be_visible()


def test_a_nurse_is_told_that_it_is_not_hers_to_read(open_page: OpenPage) -> None:
    open_page("/audit", roles=(Role.NURSE,), status=403)


def test_what_is_known_open_leads_to_its_hazard_and_its_proof(open_page: OpenPage) -> None:
    page = open_page("/about")
    page.get_by_role("link", name="Every hazard, what stands against it").click()
    page.locator(".hazards-open a").first.click()
    hazard = page.locator(":target")
    expect(hazard).to_be_in_viewport()
    section = page.locator(".hazard").filter(has=hazard)
    section.get_by_text("Proven by").first.click()
    expect(section.locator(".hazard-tests").first).to_contain_text("tests/")


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("look", ["light", "night", "projector"])
def test_nothing_stands_in_anyone_s_way(
    open_page: OpenPage, barriers: Barriers, path: str, look: str
) -> None:
    page = open_page(path)
    page.evaluate("look => document.documentElement.dataset.look = look", look)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert barriers(page) == []


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_no_page_is_wider_than_its_window(
    open_page: OpenPage, too_wide: TooWide, path: str, viewport: dict[str, int]
) -> None:
    page = open_page(path, viewport=viewport)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert too_wide(page) == 0
