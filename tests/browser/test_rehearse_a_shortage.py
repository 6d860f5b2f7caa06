"""A pharmacist rehearses a loss from a fresh unit and prints a plan: what is lost, who draws on it,
what is nearest, what is new with it, and how long it all lasts.
"""

import csv
import io
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from app.security.acts import Role

pytestmark = pytest.mark.browser
OpenPage = Callable[..., Page]
Barriers = Callable[[Page], list[str]]
TooWide = Callable[[Page], int]
Tell = Callable[..., Page]
PHONE = {"width": 390, "height": 844}
SALINE = "sodium-chloride-0.9"
REHEARSAL = f"/shortage?lost={SALINE}"
# Longer than the half minute after which a page asks again.
A_WHILE_MS = 31_000
A4_PAGES_AT_MOST = 2


def sheets(page: Page) -> int:
    """How many sheets of A4 the page takes on paper."""
    paper = page.pdf(format="A4", prefer_css_page_size=True)
    return len(re.findall(rb"/Type\s*/Page(?![s\w])", paper))


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_a_fresh_unit_to_a_printed_plan_in_four_steps(
    open_page: OpenPage, *, script: bool
) -> None:
    page = open_page("/catalogue", script=script, roles=(Role.PHARMACIST,))
    page.get_by_role("link", name="Rehearse a shortage").click()
    page.get_by_label(re.compile(r"0\.9% sodium chloride\s+9 orders")).check()
    page.get_by_label(re.compile("Deliveries lost")).fill("60")
    page.get_by_role("button", name="Rehearse").click()
    expect(page.locator("#lost-head")).to_have_text("If this is lost: 0.9% sodium chloride")
    expect(page.locator(".short-order")).to_have_count(9)
    page.get_by_role("link", name="The plan, to print").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Shortage plan: 0.9% sodium chloride")
    rows = page.locator(".plan-orders tbody tr")
    # Nine orders, then five drugs whose carrier is lost.
    expect(rows).to_have_count(14)
    for n in range(9):
        new = rows.nth(n).locator("td").nth(2)
        expect(new).to_have_text(re.compile("none that is not there already|critical|warning|info"))
    expect(page.locator(".plan")).to_contain_text("Supports your judgement")
    expect(page.locator(".plan")).to_contain_text("60% of deliveries")
    assert 1 <= sheets(page) <= A4_PAGES_AT_MOST


def test_every_affected_order_lists_its_new_cautions_with_the_rule_one_click_away(
    open_page: OpenPage,
) -> None:
    page = open_page(f"{REHEARSAL}&lost=ringers-injection")
    orders = page.locator(".short-order")
    count = orders.count()
    assert count == 9
    for n in range(count):
        expect(orders.nth(n).locator(".short-changes dt").first).to_have_text("New")
    injured = orders.filter(has_text="V.I., 22 y")
    expect(injured.locator(".short-first")).to_contain_text("warning")
    injured.locator(".short-first .short-changes a").first.click()
    expect(page).to_have_url(re.compile("/rules/"))


@pytest.mark.parametrize(
    "path",
    ["/shortage", REHEARSAL, f"/shortage/plan?lost={SALINE}", "/shortage/plans",
     f"/catalogue/{SALINE}/counts"],
)  # fmt: skip
@pytest.mark.parametrize("how", ["desk", "phone", "night"])
def test_the_pages_stand_in_nobodys_way(
    open_page: OpenPage, barriers: Barriers, too_wide: TooWide, path: str, how: str
) -> None:
    options = {"desk": {}, "phone": {"viewport": PHONE}, "night": {"color_scheme": "dark"}}[how]
    page = open_page(path, **options)
    assert barriers(page) == []
    assert too_wide(page) <= 0


def test_what_is_wrong_is_told_beside_its_field_and_the_rest_is_kept(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page("/shortage")
    page.get_by_label(re.compile(r"lactated Ringer's \(US\)\s+4 orders")).check()
    page.get_by_label(re.compile("Deliveries lost")).fill("140")
    page.get_by_label(re.compile("^Plan for")).fill("two weeks")
    page.get_by_role("button", name="Rehearse").click()
    expect(page.locator("#error-share")).to_contain_text("at most 100")
    expect(page.locator("#error-days")).to_contain_text("1 to 90")
    expect(page.get_by_label(re.compile("Deliveries lost"))).to_have_value("140")
    expect(page.get_by_label(re.compile(r"lactated Ringer's \(US\)\s+4 orders"))).to_be_checked()
    assert barriers(page) == []


def test_a_size_is_picked_in_words_and_two_small_bags_only_when_allowed(
    open_page: OpenPage,
) -> None:
    page = open_page("/shortage")
    page.get_by_label(re.compile("^Another fluid")).fill("1,000 mL bags of lactated Ringer's (US)")
    page.get_by_role("button", name="Rehearse").click()
    expect(page).to_have_url(re.compile("lost=lactated-ringers%401000"))
    expect(page.locator(".short-first").first).not_to_contain_text("lactated Ringer's")
    page.get_by_text("Change what is lost").click()
    page.get_by_label(re.compile("Several smaller bags")).check()
    page.get_by_role("button", name="Rehearse").click()
    expect(page.locator(".short-first").first).to_contain_text("2 bags of 500 mL")


def test_a_count_on_the_shelf_changes_the_days_left(open_page: OpenPage) -> None:
    page = open_page("/catalogue/dextrose-5/counts")
    page.get_by_label(re.compile("1,000 mL in pharmacy")).fill("five")
    page.get_by_role("button", name="Tell what was counted").click()
    expect(page.locator("#error-bags-1000-pharmacy")).to_contain_text("“five” is not accepted")
    page.get_by_label(re.compile("1,000 mL in pharmacy")).fill("5")
    page.get_by_role("button", name="Tell what was counted").click()
    expect(page.locator(".plain-list").first).to_contain_text("5 bags of 1,000 mL in pharmacy")
    page.goto("/shortage?lost=dextrose-5")
    expect(page.locator(".short-table").first).to_contain_text("8 days, to")


def test_a_fluid_told_out_meanwhile_is_news_on_the_open_plan_and_offered_no_more(
    open_page: OpenPage, tell: Tell
) -> None:
    page = open_page(f"/shortage/plan?lost={SALINE}")
    expect(page.locator(".plan-orders")).to_contain_text("Ringer's injection")
    page.clock.install()
    page.reload()
    tell("ringers-injection", "out", "lorry late")
    page.clock.run_for(A_WHILE_MS)
    expect(page.locator("#news")).to_contain_text("Ringer's injection (no lactate): out since")
    page.get_by_role("link", name="Look again", exact=True).first.click()
    expect(page.locator(".plan-orders")).not_to_contain_text("Ringer's injection")


@pytest.mark.parametrize("path", ["/predict?patient=bed-05", "/predict/ahead?patient=bed-05&fluid="
                                  "dextrose-5&volume=1000&rate=60", "/shortage"])  # fmt: skip
def test_other_pages_that_name_fluids_say_what_is_out_as_well(
    open_page: OpenPage, tell: Tell, path: str
) -> None:
    page = open_page(path)
    page.clock.install()
    page.reload()
    expect(page.locator("#news")).to_have_text("")
    tell("dextrose-5", "out", "lorry late")
    page.clock.run_for(A_WHILE_MS)
    expect(page.locator("#news")).to_contain_text("5% dextrose (US): out since 07:05. Lorry late.")


def test_a_prediction_says_that_the_fluid_it_tries_is_out(open_page: OpenPage, tell: Tell) -> None:
    tell("dextrose-5", "out", "lorry late")
    page = open_page("/predict?fluid=dextrose-5&volume=1000&minutes=600&weight=70")
    expect(page.locator("#course .lack")).to_contain_text("5% dextrose (US): out since 07:05")


def test_a_plan_is_kept_with_a_note_and_held_against_today(
    open_page: OpenPage, barriers: Barriers
) -> None:
    page = open_page(REHEARSAL, roles=(Role.PHARMACIST,))
    page.get_by_role("button", name="Keep the plan").click()
    expect(page.locator("#error-note")).to_contain_text("Accepted: why it is kept")
    page.get_by_label(re.compile("^Note")).fill("decided at the huddle")
    page.get_by_role("button", name="Keep the plan").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(": 0.9% sodium chloride")
    expect(page.locator(".short")).to_contain_text("Nothing has changed that the plan tells")
    assert barriers(page) == []
    page.get_by_role("link", name="Plans kept").click()
    expect(page.locator(".short-plans")).to_contain_text("decided at the huddle")


def test_the_file_holds_the_same_orders(open_page: OpenPage) -> None:
    page = open_page(REHEARSAL)
    with page.expect_download() as download:
        page.get_by_role("link", name="As a file (CSV)").click()
    text = download.value.path().read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert sum(row["part"] == "order" for row in rows) == 9
    assert download.value.suggested_filename == "shortage-plan.csv"


def test_an_educator_is_told_who_may_rehearse(open_page: OpenPage) -> None:
    page = open_page("/shortage", roles=(Role.EDUCATOR,), status=403)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
