"""A pharmacist runs a drafted limit on past orders, sees how far it is, and reads what came out;
two people mark a sample of what is said, neither seeing the other's word first.
"""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from app.catalogue.changes.change import Change, LimitValue, Signature
from app.security.acts import Role
from app.storage.changes.records import add_change
from app.storage.database import transaction
from app.storage.past.load import load_invented
from app.storage.past.stories import FILE
from tests.browser.conftest import OpenPage, Served

pytestmark = pytest.mark.browser

UNTIL = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
PHONE = {"width": 390, "height": 844}
# Processes are started afresh, on a machine that may be busy.
RUNS_WITHIN_MS = 180_000


@pytest.fixture(scope="module")
def change(served: Served, tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of a drafted limit, on a unit that has some past."""
    text = FILE.read_text(encoding="utf-8").replace("requests_a_day = 116", "requests_a_day = 12")
    few = tmp_path_factory.mktemp("past") / "past.toml"
    few.write_text(text, encoding="utf-8")
    now = datetime.now(UTC)  # noqa: TID251 - what is drafted must not lie before the server's now
    signed = Signature("a1", "R. Alder", True, now)
    content = LimitValue("ord-water-total", "excess_ml_kg_day", 30.5)
    drafted = Change(content, "too quiet", now + timedelta(days=1), date(2027, 1, 1), signed)
    with transaction(served.app.state.engine) as session:
        load_invented(session, UNTIL, few)
        return f"/changes/{add_change(session, drafted)}"


@pytest.fixture(scope="module")
def counted() -> list[bool]:
    """Whether a count has been made; the unit is the same for every test here."""
    return []


def count(page: Page, counted: list[bool]) -> None:
    """Have it counted, once."""
    if not counted:
        page.get_by_role("button", name="Count what is said").click()
        expect(page.locator("#burden")).to_be_visible(timeout=RUNS_WITHIN_MS)
        counted.append(True)


def test_a_replay_shows_how_far_it_is_and_then_what_came_out(
    open_page: OpenPage, change: str, barriers: Callable[[Page], list[str]]
) -> None:
    page = open_page(change, roles=(Role.PHARMACIST,))
    page.get_by_role("link", name="Run it on past orders").click()
    expect(page.get_by_text("Not run yet")).to_be_visible()
    page.get_by_role("button", name="Run it on past orders").click()
    bar = page.get_by_role("progressbar", name="How far the run is")
    expect(bar).to_be_visible()
    assert barriers(page) == []
    expect(page.get_by_role("heading", name="What came out")).to_be_visible(timeout=RUNS_WITHIN_MS)
    expect(page.get_by_role("status")).to_have_text("Finished")
    expect(bar).to_have_count(0)
    expect(page.locator(".outcome-lead")).to_contain_text("360 past requests")
    assert barriers(page) == []
    page.locator(".outcome-kind a").first.click()
    expect(page.get_by_role("heading", name="With the change")).to_be_visible()
    expect(page.locator(".past-news").first).to_be_visible()
    assert barriers(page) == []


def test_without_script_one_looks_again(open_page: OpenPage, change: str) -> None:
    page = open_page(f"{change}/replay", roles=(Role.PHARMACIST,), script=False)
    page.get_by_role("button", name="Run it").click()
    page.get_by_role("link", name="Look again").click()
    page.get_by_role("button", name="Stop it").click()
    expect(page.locator("#replay")).to_contain_text("Stop")


def test_a_nurse_reads_a_change_and_runs_none(open_page: OpenPage, change: str) -> None:
    open_page(f"{change}/replay", roles=(Role.NURSE,), status=403)


@pytest.fixture
def hinders(
    too_wide: Callable[[Page], int], barriers: Callable[[Page], list[str]]
) -> Callable[[Page], list[str]]:
    """What is in anybody's way on a page: too wide for its window, or what axe finds."""
    return lambda page: [*barriers(page), *["too wide"] * (too_wide(page) > 0)]


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 900}])
def test_the_pages_fit_by_day_and_by_night(
    open_page: OpenPage,
    change: str,
    viewport: dict[str, int],
    hinders: Callable[[Page], list[str]],
    counted: list[bool],
) -> None:
    page = open_page(f"{change}/replay", viewport=viewport, color_scheme="dark")
    assert hinders(page) == []
    page = open_page("/burden", viewport=viewport, color_scheme="dark")
    count(page, counted)
    assert hinders(page) == []


def test_two_people_mark_a_sample_unseen_by_each_other(
    open_page: OpenPage, change: str, counted: list[bool], barriers: Callable[[Page], list[str]]
) -> None:
    one = open_page("/burden", roles=(Role.NURSE,))
    count(one, counted)
    one.get_by_role("button", name="Draw a sample").click()
    one.get_by_role("link", name="Mark the next one").click()
    assert barriers(one) == []
    address = one.url
    one.get_by_label("Wrong:").check()
    one.get_by_role("button", name="Mark it").click()
    expect(one.get_by_text("Say why, in a few words.")).to_be_visible()
    one.get_by_label("Why, in a few words").fill("the bag had ended")
    one.get_by_role("button", name="Mark it").click()
    expect(one.get_by_text("finding 2 of 10")).to_be_visible()

    path = address.split("/", 3)[3]
    other = open_page(f"/{path}", roles=(Role.PHARMACIST,), viewport=PHONE)
    expect(other.get_by_text("the bag had ended")).to_have_count(0)
    other.get_by_label("Useful: worth").check()
    other.get_by_role("button", name="Mark it").click()
    expect(other.get_by_text("finding 2 of 10")).to_be_visible()

    one.goto(address)
    expect(one.get_by_text("the bag had ended")).to_be_visible()
    expect(one.get_by_text("pharmacist: useful")).to_be_visible()
    one.goto("/burden")
    expect(one.locator("#precision")).to_contain_text("1 of 10 marked by two")
    expect(one.locator("#precision")).to_contain_text("too few to say")
