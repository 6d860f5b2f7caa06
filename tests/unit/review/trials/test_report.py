"""The report is kept as plain values and reads back."""

from dataclasses import replace

import pytest

from app.review.trials.report import Report, document_of, report_from
from tests.unit.review.trials.test_errors import POINT


def test_what_is_written_reads_back() -> None:
    report = Report("2031-03-04", "abc", (POINT,))
    assert report_from(document_of(report)) == report


def test_what_is_not_there_is_not_written() -> None:
    (table,) = document_of(Report("2031-03-04", "abc", (POINT,)))["point"]
    assert "notes" not in table
    assert table["measured"] == 2.0


def test_a_figure_is_kept_to_four_places() -> None:
    long = replace(POINT, predicted=1 / 3)
    (table,) = document_of(Report("2031-03-04", "abc", (long,)))["point"]
    assert table["predicted"] == pytest.approx(0.3333, abs=1e-12)


def test_a_report_older_than_bands_is_still_read() -> None:
    (table,) = document_of(Report("2031-03-04", "abc", (POINT,)))["point"]
    assert "low" not in table
    without = {key: value for key, value in table.items() if key != "viewed"}
    (point,) = report_from({"day": "", "model": "", "point": [without]}).points
    assert point == POINT
    assert point.inside is None
