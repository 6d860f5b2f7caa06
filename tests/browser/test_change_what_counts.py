"""One person drafts, another approves in a browser of their own, and the rule's page shows it.

Every test sees the same unit, so what is changed here is put back in the end, as people would.
"""

import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from app.catalogue.changes.change import LimitValue, RuleSwitch, Signature
from app.review.changes.decide import Reading, approve
from app.review.changes.draft import Asked, draft_limit, draft_switch
from app.security.acts import Role
from app.storage.changes.records import read_history
from app.storage.database import transaction
from tests.browser.conftest import OpenPage, Served

RULE, LIMIT = "glu-refeed", "bmi_kg_m2"
PHARMACIST, PRESCRIBER, NURSE = (Role.PHARMACIST,), (Role.PRESCRIBER,), (Role.NURSE,)
WHY = "agreed with the dietitians in May"
ALL_THE_SAME = "The replay follows this week"
PHONE = {"width": 390, "height": 800}


@pytest.fixture(autouse=True)
def put_back(served: Served) -> Iterator[None]:
    """Afterwards the rule is as the release has it."""
    yield
    at = datetime.now(UTC)  # noqa: TID251 - content counts by the real clock
    drafter, approver = Signature("a", "A.", True, at), Signature("b", "B.", False, at)
    told = Asked("put back", "", (at + timedelta(days=30)).date(), at.isoformat())
    with transaction(served.app.state.engine) as session:
        for filed in read_history(session).in_force(at).values():
            content = filed.change.content
            if isinstance(content, LimitValue) and content.value is not None:
                number = draft_limit(session, (content.rule_id, content.name), "", told, drafter)
            elif isinstance(content, RuleSwitch) and not content.on:
                number = draft_switch(session, content.rule_id, True, told, drafter)
            else:
                continue
            approve(session, number, Reading(at.isoformat(), "put back"), approver)


def draft_the_limit(page: Page, value: str) -> str:
    """From the rule's page to a kept draft; its address."""
    page.get_by_role("link", name="Change body mass index").click()
    page.get_by_label("New value").fill(value)
    page.get_by_label("Why").fill(WHY)
    page.get_by_role("button", name="Keep this draft").click()
    expect(page.get_by_text("To be decided.")).to_be_visible()
    return page.url


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_limit_is_drafted_by_one_and_approved_by_another(
    open_page: OpenPage, script: bool
) -> None:
    rule = open_page(f"/rules/{RULE}", roles=PHARMACIST, script=script)
    address = draft_the_limit(rule, "14")
    expect(rule.get_by_text("Nobody approves a draft of their own")).to_be_visible()
    other = open_page(address, roles=PRESCRIBER, script=script)
    expect(other.get_by_role("row", name="16 kg/m²")).to_contain_text("14 kg/m²")
    other.get_by_role("button", name="Approve").click()
    expect(other.get_by_text("although it was not replayed on past orders")).to_be_visible()
    other.get_by_label("Why it is approved all the same").fill(ALL_THE_SAME)
    other.get_by_role("button", name="Approve").click()
    expect(other.get_by_text("In force.", exact=True)).to_be_visible()
    nurse = open_page(f"/rules/{RULE}", roles=NURSE, script=script)
    own = nurse.locator("div.change-own")
    expect(own).to_contain_text("14 kg/m², where the release has 16 kg/m²")
    expect(own).to_contain_text(WHY)
    expect(nurse.get_by_role("link", name="Change body mass index")).to_have_count(0)


def test_a_slip_of_the_pen_is_told_beside_its_field_and_nothing_typed_is_lost(
    open_page: OpenPage,
) -> None:
    page = open_page(f"/rules/{RULE}/change?limit={LIMIT}", roles=PHARMACIST)
    page.get_by_label("New value").fill("1600")
    page.get_by_label("Why").fill(WHY)
    page.get_by_label("Counts from").fill("2020-01-01T07:00")
    page.get_by_role("button", name="Keep this draft").click()
    expect(page.locator("#error-value")).to_contain_text("“1600” is not accepted")
    expect(page.get_by_label("Why")).to_have_value(WHY)
    page.get_by_label("New value").fill("15")
    page.get_by_role("button", name="Keep this draft").click()
    expect(page.locator("#error-effective_from")).to_contain_text("a moment not before")
    expect(page.get_by_label("New value")).to_have_value("15")


def test_a_rule_that_is_off_is_said_where_it_would_have_spoken(open_page: OpenPage) -> None:
    rule = open_page("/rules/k-hyper", roles=PHARMACIST)
    rule.get_by_role("link", name="Draft that this rule is switched off here").click()
    rule.get_by_label("Why").fill("too loud on this ward")
    rule.get_by_role("button", name="Keep this draft").click()
    expect(rule.get_by_text("To be decided.")).to_be_visible()
    other = open_page(rule.url, roles=PRESCRIBER)
    other.get_by_label("Why it is approved all the same").fill(ALL_THE_SAME)
    other.get_by_role("button", name="Approve").click()
    expect(other.get_by_text("In force.", exact=True)).to_be_visible()
    bed = open_page("/patients/bed-04", roles=NURSE)
    expect(bed.locator(".patients-headline")).to_contain_text("switched off here would have spoken")
    silent = bed.locator(".silent")
    expect(silent).to_contain_text("Potassium added in hyperkalaemia")
    expect(silent).to_contain_text("too loud on this ward")
    silent.get_by_role("link").click()
    expect(bed.get_by_text("Switched off here.")).to_be_visible()


@pytest.mark.parametrize("viewport", [{"width": 1280, "height": 900}, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_stand_in_nobodys_way(
    open_page: OpenPage,
    barriers: Callable[[Page], list[str]],
    too_wide: Callable[[Page], int],
    viewport: dict[str, int],
    scheme: str,
) -> None:
    how = {"viewport": viewport, "color_scheme": scheme, "roles": PRESCRIBER}
    made = open_page(f"/rules/{RULE}", roles=PHARMACIST)
    address = draft_the_limit(made, "15")
    for path in (
        "/changes", address, f"/rules/{RULE}/change?limit={LIMIT}", f"/rules/{RULE}",
        "/rules?own=1", "/changes/then", "/catalogue/lactated-ringers/history",
    ):  # fmt: skip
        page = open_page(path, **how)
        assert barriers(page) == [], path
        assert too_wide(page) == 0, path


def test_changes_are_narrowed_without_leaving_the_page(open_page: OpenPage) -> None:
    draft_the_limit(open_page(f"/rules/{RULE}", roles=PHARMACIST), "15")
    page = open_page("/changes", roles=NURSE)
    page.get_by_label("What it changes").select_option("fluid")
    expect(page.get_by_text("No change stands so.")).to_be_visible()
    page.get_by_label("What it changes").select_option("limit")
    expect(page.get_by_role("heading", name="To be decided")).to_be_visible()
    expect(page).to_have_url(re.compile("kind=limit"))
