"""Figures of many cases: each counted once, in its group and with its author."""

from dataclasses import replace

import pytest

from app.review.measured.report import (
    FirstMet,
    Measured,
    Share,
    document_of,
    measured,
    measured_from,
)
from app.review.measured.score import Scored, Vignette, Want

VERSIONS = {"ruleset": "abc"}


def case(number: int, group: str, member: str, *wants: Want, quiet: bool = False) -> Vignette:
    title = f"Case {number}"
    return Vignette(f"c-{number}", title, group, member, wants, frozenset(), quiet, {})


@pytest.fixture
def report() -> Measured:
    """Three problems, of which one is missed; two sound orders, of which one is alarmed."""
    critical, warning = Want(("k-hyper",), "critical"), Want(("na-hypo",), "warning")
    results = [
        Scored(case(1, "problem", "nurse", critical), {"k-hyper": 0}),
        Scored(case(2, "problem", "nurse", critical, warning), {"na-hypo": 1}),
        Scored(case(3, "problem", "pharmacist", warning), {"na-hypo": 0}),
        Scored(case(4, "sound", "pharmacist", quiet=True), {"na-hypo": 2}),
        Scored(case(5, "sound", "nurse", quiet=True), {"k-hyper": 1}),
    ]
    return measured(results, day="2031-03-04", versions=VERSIONS)


def test_what_is_found_is_counted_by_level(report: Measured) -> None:
    assert report.whole.found == {
        "critical": Share(1, 2), "warning": Share(2, 2), "info": Share(0, 0),
    }  # fmt: skip
    assert report.whole.right == Share(3, 5)


def test_quiet_cases_and_alarms_are_counted(report: Measured) -> None:
    assert report.whole.quiet == Share(1, 2)
    assert report.whole.alarmed == 1
    assert report.false_alarms == (("k-hyper", 1),)


def test_groups_and_authors_have_figures_of_their_own(report: Measured) -> None:
    groups = {part.name: part.right for part in report.groups}
    assert groups["problem"] == Share(2, 3)
    assert groups["sound"] == Share(1, 2)
    assert groups["messy"] == Share(0, 0)
    assert {part.name: part.right for part in report.members} == {
        "nurse": Share(1, 3), "pharmacist": Share(2, 2),
    }  # fmt: skip


def test_each_wrong_case_is_named(report: Measured) -> None:
    told = [(w.case, w.missed, w.false_alarms) for w in report.wrong]
    assert told == [("c-2", ("k-hyper (critical)",), ()), ("c-5", (), ("k-hyper",))]


def test_the_report_survives_its_document(report: Measured) -> None:
    assert measured_from(document_of(report)) == report


def test_few_cases_leave_wide_doubt_and_none_leaves_no_share() -> None:
    low, high = Share(50, 70).interval or (0, 0)
    # Wilson's interval of 50 in 70, worked by hand.
    assert (round(low, 3), round(high, 3)) == (0.599, 0.807)
    low, high = Share(5, 5).interval or (0, 0)
    assert (round(low, 3), round(high, 3)) == (0.566, 1.0)
    assert Share(0, 0).fraction is None
    assert Share(0, 0).interval is None


def test_what_a_panel_gave_when_first_met_is_kept_as_it_was(report: Measured) -> None:
    first = FirstMet("a panel", "2031-03-04", 9, Share(1, 2), Share(3, 4), Share(0, 3))
    kept = replace(report, first_met=(first,))
    assert measured_from(document_of(kept)) == kept
