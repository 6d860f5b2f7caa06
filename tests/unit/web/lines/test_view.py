"""The lines page: what came of it first, then what to do by the clock."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from app.patient.lumen_told import LumenTold
from app.review.lines.bedside.problem import Means
from app.web.lines.view import NOTHING, PROVEN, headline, lines_page
from tests.unit.web.lines.conftest import BedOf, PageOf, PlanOf

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
FAILED = LumenTold("left forearm", "failed", NOW, "A. Nurse")


def test_a_plan_that_suffices_says_so_and_that_it_is_proven(page_of: PageOf) -> None:
    page = page_of("25")
    assert page.headline == "The 2 lumens suffice."
    assert page.burden == "Compound sodium lactate stands still twice, 3 h 55 min in all."
    assert page.proof == PROVEN
    assert page.why == ""


def test_a_plan_that_needs_more_says_how_many_and_why(page_of: PageOf) -> None:
    page = page_of("09")
    assert page.headline == "The one lumen does not suffice. The plan below needs 1 new cannula."
    assert page.why.startswith("Lactated Ringer's and red cells cannot both run")
    assert page.ways


def test_a_patient_wide_bar_says_so_and_shows_no_plan(page_of: PageOf) -> None:
    page = page_of("20")
    assert "must not both be given" in page.headline
    assert (page.pictures, page.hours, page.rows, page.proof) == (None, (), (), "")


@pytest.mark.parametrize(
    ("bed", "failed", "said"),
    [
        ("01", ("left forearm",), "There is no lumen in use. The plan below needs 1 new cannula."),
        ("01", (), "The one lumen suffices."),
    ],
)
def test_headlines_count_the_lumens_in_use(
    plan_of: PlanOf, bed: str, failed: tuple[str, ...], said: str
) -> None:
    assert headline(plan_of(bed, *failed)) == said


def test_the_clock_says_what_to_do_on_which_lumen(page_of: PageOf) -> None:
    first = page_of("25").hours[0]
    assert first.at == "07:05"
    assert [lumen for lumen, _ in first.lumens] == ["Left forearm", "Right elbow"]
    words = [step.words for step in first.lumens[0][1]]
    assert words[0] == "Pause compound sodium lactate."
    assert words[1].startswith("Flush with 5 mL of 0.9% sodium chloride: the first 1 mL slowly")
    assert words[2] == "Start ceftriaxone, 30 min, until 07:35."


def test_flushes_are_counted_with_their_sodium(page_of: PageOf) -> None:
    assert page_of("25").flushes == (
        "6 flushes, 30 mL in all of 0.9% sodium chloride, 4.6 mmol of sodium. Slowly is "
        "no faster than what ran before."
    )
    assert page_of("07").flushes == "No flush is needed."


def test_the_table_says_the_same_as_the_picture(page_of: PageOf) -> None:
    rows = {row.name: (row.lumen, row.runs) for row in page_of("25").rows}
    assert rows["Norepinephrine"] == ("Right elbow", "throughout")
    assert rows["Compound sodium lactate"] == (
        "Left forearm", "10:20 to 15:00 and 15:40 to 19:05",
    )  # fmt: skip


def test_a_lumen_nobody_looked_at_is_told_as_such(page_of: PageOf) -> None:
    left, right = page_of("25").lumens
    assert (left.told, left.stale) == ("not confirmed by anyone", True)
    assert (left.site, right.name) == ("peripheral", "Right elbow")


def test_a_lumen_looked_at_says_when_and_by_whom_and_goes_stale(page_of: PageOf) -> None:
    fresh = LumenTold("left forearm", "works", NOW - timedelta(hours=2), "A. Nurse")
    old = LumenTold("right elbow", "works", NOW - timedelta(hours=13))
    left, right = page_of("25", fresh, old).lumens
    assert (left.told, left.stale) == ("works, told 05:05 by A. Nurse", False)
    assert right.stale
    assert right.told.endswith("more than 12 h ago")


def test_a_failed_lumen_says_what_this_changes(page_of: PageOf) -> None:
    page = page_of("25", FAILED)
    assert page.lumens[0].failed
    assert page.lumens[0].told == "failed, told 07:05 by A. Nurse"
    assert page.changes[-1] == "Where they were: norepinephrine."
    moved = [s.words for hour in page.hours for _, steps in hour.lumens for s in steps]
    assert "Move compound sodium lactate here from left forearm." in moved


def test_what_is_not_planned_is_named(page_of: PageOf) -> None:
    assert ("Cefotaxime", "on the drug list, and nothing says how it is given") in (
        page_of("18").not_planned
    )


def test_nothing_to_plan_is_said(bed_of: BedOf, means: Means) -> None:
    bed = bed_of("01")
    case = replace(bed.review.case, orders=())
    page = lines_page(replace(bed, review=replace(bed.review, case=case)), means, {})
    assert page.headline == NOTHING
    assert page.proof == page.burden == ""


def test_two_that_must_not_both_be_given_are_named_in_the_headline(page_of: PageOf) -> None:
    assert page_of("20").headline == (
        "Ceftriaxone and parenteral nutrition must not both be given to this patient. No line plan "
        "can be right."
    )


def test_a_dose_says_how_long_after_the_one_before_it_starts(page_of: PageOf) -> None:
    notes = {row.name: row.note for row in page_of("11").rows}
    assert notes["Hydrocortisone, dose 1"] == ""
    assert notes["Hydrocortisone, dose 2"] == "5 h 25 min after the one before"


def test_what_was_placed_meanwhile_frees_the_plan(page_of: PageOf) -> None:
    placed = LumenTold("left foot", "placed", NOW, "", "20 G", "peripheral")
    page = page_of("09", placed)
    assert page.headline == "The 2 lumens suffice."
    assert page.lumens[1].where == "peripheral, 20 G"


def test_what_lost_its_lumen_is_not_called_uninterrupted(page_of: PageOf) -> None:
    assert page_of("03", replace(FAILED, lumen="left forearm")).burden == (
        "What ran on left forearm stands still until it is connected again; after that nothing is "
        "interrupted."
    )
