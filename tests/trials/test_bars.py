"""The prediction never falls below the bars that were set for it."""

from pathlib import Path

import pytest

from app.review.trials.errors import BARS, by_quantity, error_of
from app.review.trials.report import Report, report_from
from app.review.trials.score import Point
from app.storage.seed_files import read_toml
from tests.trials.score import REPORT, document_of, lines_of, scored, toml_of

ENOUGH_ARMS = 50
# Bars that the groups in view when a number was chosen miss, each with how far off they may be and
# the reason; no number was set from their means. A bar reached is taken off the list; nobody may be
# further off than is said here.
MISSED_IN_VIEW = {
    # Potassium rises for an hour after mannitol, by 1.5 in one group, far more than is reckoned.
    "potassium_mmol_l": 0.5,
    # Two arms of hours of surgery, with chemistry from memory.
    "ph": 0.04,
    # One arm: a bolus of strong saline is spread over plasma and interstitium at once, so that
    # plasma, which in life is the saltier of the two at first, draws too little.
    "plasma_volume_ml": 6.0,
}
# A twentieth of a bar: less could not be seen on the page.
SHARE_OF_BAR = 0.05


@pytest.fixture(scope="module")
def report() -> Report:
    """Every row predicted with the model as it stands."""
    return scored("2031-03-04")


def some(report: Report, *, held_out: bool) -> dict[str, list[Point]]:
    """Those held out, or those of open.csv."""
    return by_quantity(
        point for point in report.points if point.held_out is held_out and not point.viewed
    )


def in_view(report: Report) -> dict[str, list[Point]]:
    return by_quantity(point for point in report.points if point.viewed)


@pytest.mark.parametrize("quantity", BARS)
def test_the_bar_is_reached(quantity: str, report: Report) -> None:
    error = error_of(some(report, held_out=False)[quantity])
    assert error is not None
    assert error.off <= BARS[quantity], f"{quantity}: {error}"


@pytest.mark.parametrize("quantity", BARS)
def test_half_of_the_error_of_saying_no_change_is_gone(quantity: str, report: Report) -> None:
    error = error_of(some(report, held_out=False)[quantity])
    assert error is not None
    assert error.off <= error.still / 2


def test_what_was_held_out_is_predicted_better_than_by_no_change(report: Report) -> None:
    for quantity, points in some(report, held_out=True).items():
        error = error_of(points)
        assert error is not None
        assert error.off < error.still, f"{quantity}: {error}"


@pytest.mark.parametrize("quantity", BARS)
def test_what_was_held_out_reaches_the_bar(quantity: str, report: Report) -> None:
    error = error_of(some(report, held_out=True)[quantity])
    assert error is not None
    assert error.off <= BARS[quantity], f"{quantity}: {error}"


def test_what_was_in_view_reaches_the_bar_or_is_known_not_to(report: Report) -> None:
    for quantity, points in in_view(report).items():
        error, bar = error_of(points), BARS.get(quantity, float("inf"))
        assert error is not None
        known = MISSED_IN_VIEW.get(quantity)
        assert error.off <= (known or bar), f"{quantity}: {error}"
        assert known is None or error.off > bar, f"take {quantity} off the list"


def test_no_row_in_view_when_a_number_was_chosen_counts_as_held_out(report: Report) -> None:
    viewed = [point for point in report.points if point.viewed]
    assert viewed
    assert not any(point.held_out for point in viewed)


def test_a_change_that_is_clear_has_the_right_sign(report: Report) -> None:
    clear = {"chloride_mmol_l": 3.0, "sodium_mmol_l": 3.0, "bicarbonate_mmol_l": 1.5, "ph": 0.045}
    clear |= {"potassium_mmol_l": 0.4, "haematocrit": 2.5, "plasma_volume_ml": 5.0}
    wrong = {
        f"{point.row} {point.quantity}"
        for point in report.points
        if abs(point.measured) >= clear.get(point.quantity, float("inf"))
        and point.measured * point.predicted <= 0
    }
    assert not wrong


def test_the_arms_are_many(report: Report) -> None:
    assert len({point.arm for point in report.points}) >= ENOUGH_ARMS


def test_the_report_written_reads_back_the_same(report: Report, tmp_path: Path) -> None:
    path = tmp_path / "predicted.toml"
    path.write_text(toml_of(document_of(report)), encoding="utf-8")
    assert report_from(read_toml(path)) == report_from(document_of(report))


def test_the_report_shipped_is_what_the_model_gives(report: Report) -> None:
    kept = report_from(read_toml(REPORT))
    again = "run `make measure`"
    assert kept.model == report.model, again
    assert [p.row for p in kept.points] == [p.row for p in report.points], again
    for was, now in zip(kept.points, report.points, strict=True):
        seen = SHARE_OF_BAR * BARS.get(now.quantity, 1.5)
        assert was.predicted == pytest.approx(now.predicted, abs=seen), f"{was.row}: {again}"
        assert (was.kind, was.band, was.held_out) == (now.kind, now.band, now.held_out), again


def test_the_table_says_which_bars_are_missed(report: Report) -> None:
    told = "\n".join(lines_of(report.points))
    missed = sum(
        error.off > BARS[quantity]
        for quantity, points in some(report, held_out=True).items()
        if quantity in BARS and (error := error_of(points))
    )
    held_out = told.split("\nheld out: ")[1].split("held out, seen: ")[0]
    assert held_out.count("MISSED") == missed


def test_the_table_says_to_which_side_it_errs(report: Report) -> None:
    told = "\n".join(lines_of(report.points)).split("by quantity, fluid and dose: ")[1]
    saline = [p for p in report.points if (p.quantity, p.kind) == ("chloride_mmol_l", "saline")]
    for band in {p.band for p in saline}:
        error = error_of([p for p in saline if p.band == band])
        assert error is not None
        assert f"{error.bias:+8.3f}" in told
