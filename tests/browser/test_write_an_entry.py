"""A new bag comes, its label differs: one pharmacist drafts it, another approves it.

Every test sees the same unit, so the entry is put back in the end, as people would.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.change import Signature
from app.catalogue.document import document_of
from app.catalogue.entry import EntryError
from app.review.changes.decide import Reading, approve, withdraw
from app.review.changes.draft import Asked, draft_fluid
from app.review.knowledge import Past
from app.security.acts import Role
from app.storage.database import transaction
from app.storage.people.demo import DEMO_PASSWORD
from tests.browser.conftest import AFTER_THE_LAST_KEY_MS, OpenPage, Served

pytestmark = pytest.mark.browser
FLUID, NAME = "ringers-acetate", "Ringer's acetate (Europe)"
CARD = f"/catalogue/{FLUID}"
PHARMACIST, NURSE = (Role.PHARMACIST,), (Role.NURSE,)
OTHERS = (Role.PRESCRIBER, Role.PHARMACIST)
WHY = "the new supplier's bag, label of November"
LABEL = (
    "1.000 ml contains: Na⁺ 130,0 mmol; K⁺ 5,4 mmol; Ca²⁺ 1,0 mmol; Mg²⁺ 1,0 mmol; "
    "Cl⁻ 112,0 mmol; acetate 27,0 mmol. Osmolarity 276 mOsm/l. pH 6,0 – 8,0"
)
POTASSIUM = '[name="composition_mmol_l.potassium"]'
CHLORIDE = '[name="composition_mmol_l.chloride"]'
SIZES = [{"width": 1280, "height": 900}, {"width": 390, "height": 844}]


@pytest.fixture(autouse=True)
def put_back(served: Served, catalogue: Catalogue) -> Iterator[None]:
    """Afterwards nothing is drafted of the fluid, and it is as the release has it."""
    yield
    at = datetime.now(UTC)  # noqa: TID251 - content counts by the real clock
    told = Asked("put back", "", (at + timedelta(days=30)).date(), at.isoformat())
    fluid = catalogue.get(FLUID)
    assert fluid is not None
    with transaction(served.app.state.engine) as session:
        history = Past.of(session).history
        for filed in history.about(f"fluid:{FLUID}"):
            if history.state(filed, at) == "draft":
                mine = filed.change.drafted
                by = Signature(mine.account_id, mine.name, mine.pharmacist, at)
                withdraw(session, filed.change.number, "put back", by)
        try:
            number = draft_fluid(session, document_of(fluid), told, Signature("a", "A.", True, at))
        except EntryError:
            return
        approve(
            session, number, Reading(at.isoformat(), "put back"), Signature("b", "B.", True, at)
        )


def from_label_to_form(page: Page) -> None:
    """A pasted label, held against the entry, fills the form."""
    page.get_by_role("link", name="Hold a label against it").click()
    page.get_by_label("The label’s text").fill(LABEL)
    page.get_by_role("button", name="Compare").click()
    expect(page.locator("#held")).to_contain_text("1 figure differs")
    expect(page.get_by_role("row", name="Potassium")).to_contain_text("5 mmol/L")
    expect(page.locator("#held")).to_contain_text("The label of another maker or country")
    page.get_by_role("button", name="Draft this as a change").click()
    expect(page.locator(POTASSIUM)).to_have_value("5.4")


def put_right(page: Page) -> None:
    """Chloride closes the gap that the label's potassium alone leaves."""
    page.locator(CHLORIDE).fill("112.4")
    page.get_by_label("Why it is changed").fill(WHY)
    keep(page)


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_label_s_potassium_is_drafted_approved_and_shown_and_the_old_one_stays(
    open_page: OpenPage, script: bool
) -> None:
    page = open_page(CARD, roles=PHARMACIST, script=script)
    from_label_to_form(page)
    expect(page.locator("#live")).to_contain_text("139.4 mEq/L of cations against 139 of anions")
    expect(page.locator("#live-head")).to_have_text("Not ready: 1 doubt")
    page.get_by_label("Why it is changed").fill(WHY)
    keep(page)
    expect(page.get_by_role("alert")).to_contain_text("139.4 mEq/L of cations")
    expect(page.get_by_label("Why it is changed")).to_have_value(WHY)
    put_right(page)
    expect(page.get_by_text("To be decided.")).to_be_visible()
    expect(page.get_by_text("Nobody approves a draft of their own")).to_be_visible()
    nurse = open_page(CARD, roles=NURSE, script=script)
    expect(nurse.get_by_role("link", name="Change this entry")).to_have_count(0)
    other = open_page(page.url, roles=OTHERS, script=script)
    expect(other.get_by_role("row", name="potassium, mmol/L")).to_contain_text("5.4")
    other.get_by_label("Why it is approved all the same").fill("checked on the bag itself")
    other.get_by_role("button", name="Approve").click()
    expect(other.get_by_text("In force.", exact=True)).to_be_visible()
    nurse.reload()
    expect(nurse.locator("#main")).to_contain_text("5.4")
    nurse.get_by_role("link", name="What this entry said before").click()
    expect(nurse.locator("#main")).to_contain_text(WHY)
    row = nurse.locator(".change-apart li", has_text="Potassium").first
    expect(row).to_contain_text("5")
    expect(row).to_contain_text("5.4")


def test_while_typing_charge_slips_and_differences_are_told(open_page: OpenPage) -> None:
    page = open_page(f"{CARD}/edit", roles=PHARMACIST)
    live = page.locator("#live")
    expect(live).to_contain_text("Nothing differs from what is in force")
    page.locator(POTASSIUM).press("End")
    page.locator(POTASSIUM).press_sequentially("0", delay=30)
    expect(live).to_contain_text("Potassium 50 mmol/L: has the point slipped?")
    expect(live).to_contain_text("It would be 5 mmol/L")
    expect(page.locator("#meq-composition_mmol_l-potassium")).to_have_text("50 mEq/L")
    page.locator('[name="ph.low"]').fill("sour")
    expect(page.locator("#error-ph-low")).to_contain_text("“sour” is not accepted")
    live.get_by_role("link", name="pH, lowest").click()
    expect(page.locator('[name="ph.low"]')).to_be_in_viewport()
    page.locator('[name="ph.low"]').fill("6")
    page.locator(POTASSIUM).fill("5")
    expect(live).to_contain_text("Nothing differs from what is in force")
    expect(page.locator("#error-ph-low")).to_be_empty()


def test_the_whole_form_is_walked_and_sent_by_keyboard(open_page: OpenPage) -> None:
    page = open_page(f"{CARD}/edit", roles=PHARMACIST)
    page.locator(POTASSIUM).focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("5.4")
    page.keyboard.press("Enter")
    expect(page.locator("#live-head")).to_have_text("Not ready: 1 doubt")
    expect(page.locator(POTASSIUM)).to_have_value("5.4")
    names = set()
    page.locator('[name="name"]').focus()
    for _ in range(80):
        names.add(page.evaluate("document.activeElement.name || document.activeElement.id"))
        page.keyboard.press("Tab")
    assert {"name", "kind", "ph.low", "explained.charge", "source.0.work", "reason"} <= names


def test_two_at_one_entry_the_second_chooses_field_by_field(open_page: OpenPage) -> None:
    second = open_page(f"{CARD}/edit", roles=OTHERS)
    second.locator('[name="note"]').fill("note of the second")
    second.get_by_label("Why it is changed").fill("better words")
    first = open_page(f"{CARD}/edit", roles=PHARMACIST)
    first.locator(POTASSIUM).fill("5.4")
    put_right(first)
    expect(first.get_by_text("To be decided.")).to_be_visible()
    keep(second)
    late = second.get_by_role("alert")
    expect(late).to_contain_text("Somebody was at the same entry while you wrote")
    expect(late).to_contain_text("Test pharmacist")
    expect(second.locator('[name="note"]')).to_have_value("note of the second")
    expect(second.get_by_role("group", name="Potassium").get_by_label("theirs")).to_be_checked()
    second.get_by_role("group", name="Chloride").get_by_label("yours").check()
    second.get_by_role("button", name="Take these over and look again").click()
    expect(second.locator(POTASSIUM)).to_have_value("5.4")
    expect(second.locator(CHLORIDE)).to_have_value("112")
    expect(second.locator('[name="note"]')).to_have_value("note of the second")
    expect(second.get_by_label("Why it is changed")).to_have_value("better words")


def signed_in_by_password(page: Page) -> None:
    """A pharmacist of the demo unit, as people sign in."""
    page.goto("/sign-in")
    page.get_by_label("Name you sign in by").fill("pharmacist")
    page.get_by_label("Password").fill(DEMO_PASSWORD)
    page.get_by_role("button", name="Sign in").first.click()
    page.wait_for_url(lambda url: "/sign-in" not in url)


def lock(page: Page) -> None:
    """The session is over, as after a long break: told from elsewhere, by the same key."""
    origin = page.evaluate("location.origin")
    answer = page.context.request.post(
        "/account/lock",
        headers={"Origin": origin, "Sec-Fetch-Site": "same-origin"},
        max_redirects=0,
    )
    assert answer.status == 303


def keep(page: Page) -> None:
    """Keep the draft, once what the last key asked for has come."""
    page.wait_for_timeout(AFTER_THE_LAST_KEY_MS)
    expect(page.locator(".htmx-request")).to_have_count(0)
    page.get_by_role("button", name="Keep this draft").click()


def half_written(page: Page) -> None:
    page.goto(f"{CARD}/edit")
    page.locator(POTASSIUM).fill("5.4")
    page.locator(CHLORIDE).fill("112.4")
    page.get_by_label("Why it is changed").fill(WHY)


def test_a_session_that_ends_while_typing_takes_nothing_from_the_page(open_page: OpenPage) -> None:
    page = open_page("/about", roles=())
    signed_in_by_password(page)
    half_written(page)
    expect(page.locator("#live-head")).to_contain_text("no check finds a fault")
    lock(page)
    page.locator('[name="note"]').fill("written while locked")
    panel = page.locator("#again")
    expect(panel).to_contain_text("What is typed on this page stays")
    panel.get_by_label("Password").fill(DEMO_PASSWORD)
    panel.get_by_role("button", name="Unlock").click()
    expect(page.locator(".again-box")).to_have_count(0)
    expect(page.locator(POTASSIUM)).to_have_value("5.4")
    expect(page.locator('[name="note"]')).to_have_value("written while locked")
    keep(page)
    expect(page.get_by_text("To be decided.")).to_be_visible()
    expect(page.locator("#main")).to_contain_text("written while locked")


def test_a_form_sent_after_the_session_ended_is_kept_and_sent_once_signed_in(
    open_page: OpenPage, settled: Callable[[Page], None]
) -> None:
    page = open_page("/about", roles=())
    signed_in_by_password(page)
    half_written(page)
    settled(page)  # else the check of the last key brings the panel before the form is sent
    lock(page)
    keep(page)
    expect(page.locator("#main")).to_contain_text("Nothing was sent yet")
    page.locator("#main").get_by_label("Password").fill(DEMO_PASSWORD)
    page.locator("#main").get_by_role("button", name="Unlock").click()
    expect(page.get_by_role("heading", name="Not sent yet")).to_be_visible()
    page.get_by_role("button", name="Send it now").click()
    expect(page.get_by_text("To be decided.")).to_be_visible()
    expect(page.locator("#main")).to_contain_text(WHY)
    expect(page.get_by_role("row", name="potassium, mmol/L")).to_contain_text("5.4")


@pytest.mark.parametrize("viewport", SIZES, ids=["desk", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_stand_in_nobody_s_way(
    open_page: OpenPage,
    barriers: Callable[[Page], list[str]],
    too_wide: Callable[[Page], int],
    viewport: dict[str, int],
    scheme: str,
) -> None:
    how = {"viewport": viewport, "color_scheme": scheme, "roles": PHARMACIST}
    for path in (f"{CARD}/edit", "/catalogue/new", f"{CARD}/label"):
        page = open_page(path, **how)
        for fold in page.locator("#main details > summary").all():
            fold.click()
        assert (path, barriers(page), too_wide(page)) == (path, [], 0)
    page.get_by_label("The label’s text").fill(f"{LABEL}; glycine 15 g/L")
    expect(page.locator("#held")).to_contain_text("something was not read")
    assert (barriers(page), too_wide(page)) == ([], 0)
    page.get_by_role("button", name="Draft this as a change").click()
    page.locator('[name="energy_kcal_l"]').fill("1,000")
    expect(page.locator("#error-energy_kcal_l")).to_contain_text("a comma there may mean either")
    assert (barriers(page), too_wide(page)) == ([], 0)
