from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.changes.history import Filed, History
from app.review.knowledge import shipped
from app.web.changes.words import (
    counts_text,
    day_text,
    href_of,
    moment_text,
    review_text,
    signed_text,
    title_of,
    verdict_text,
)
from tests.changing import LIMIT, RULE, approved, change, pharmacist

NOW = datetime(2026, 7, 1, 5, 0, tzinfo=UTC).astimezone(ZoneInfo("Europe/Berlin"))
HOUR = timedelta(hours=1)
OFF = RuleSwitch(RULE, on=False)
TITLE = "Potassium added in hyperkalaemia"


def test_a_change_is_named_as_people_name_what_it_is_about() -> None:
    catalogue = shipped().catalogue
    titles = {
        LimitValue(RULE, LIMIT, 6.2): f"{TITLE}: plasma potassium that is high",
        LimitValue("old-rule", "gone_mmol_l", 1.0): "old-rule: gone mmol l",
        OFF: f"{TITLE}: switched off",
        RuleSwitch(RULE, on=True): f"{TITLE}: on again",
        FluidEntry("dextrose-5", None): "5% dextrose (US): taken out",
    }  # fmt: skip
    for content, title in titles.items():
        assert title_of(content, catalogue) == title
    new = FluidEntry("ours", {"name": "our own"})
    assert title_of(new, catalogue) == "our own: new"
    held = FluidEntry("dextrose-5", {"name": "5% dextrose"})
    assert title_of(held, catalogue) == "5% dextrose"
    assert (href_of(held), href_of(OFF)) == ("/catalogue/dextrose-5", "/rules/k-hyper")


def test_moments_are_told_on_the_units_clock() -> None:
    assert moment_text(datetime(2026, 7, 1, 5, 0, tzinfo=UTC), NOW) == "Wed 1 Jul 2026, 07:00"
    assert signed_text(pharmacist(NOW), NOW) == "J. Birch, pharmacist, Wed 1 Jul 2026, 07:00"
    assert day_text(date(2026, 7, 1)) == "1 Jul 2026"
    assert verdict_text("sent back") == "Sent back by"


def test_from_when_it_counts_fits_how_it_stands() -> None:
    soon = approved(OFF, NOW, counts=NOW + 2 * HOUR)
    history = History((soon,))
    later = Filed(change(OFF, NOW, counts=NOW + 2 * HOUR))
    told = {
        counts_text(Filed(change(OFF, NOW)), "draft", NOW),
        counts_text(later, "draft", NOW),
        counts_text(soon, history.state(soon, NOW + HOUR), NOW),
        counts_text(soon, "superseded", NOW),
        counts_text(later, "sent back", NOW),
    }
    assert told == {
        "Would count as soon as it is approved", "Would count from Wed 1 Jul 2026, 09:00",
        "Counts from Wed 1 Jul 2026, 09:00", "Counted from Wed 1 Jul 2026, 09:00", "Never counted",
    }  # fmt: skip


def test_a_review_that_is_overdue_is_said_where_the_change_still_counts() -> None:
    filed, later = approved(OFF, NOW), NOW + timedelta(days=400)
    assert review_text(filed, "in force", NOW) == "To be looked at again by 1 Jul 2027"
    assert "was due on 1 Jul 2027 and has not been done" in review_text(filed, "in force", later)
    assert "To be looked at again" in review_text(filed, "superseded", later)
