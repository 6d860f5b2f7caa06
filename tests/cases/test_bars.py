"""The review never falls below the bars that were set for it."""

import tomllib
from pathlib import Path

import pytest

from app.review.knowledge import Knowledge
from app.review.measured.report import Measured, measured_from
from app.storage.seed_files import read_toml
from tests.cases.score import HERE, REPORT, cases, document_of, reported, results_of, toml_of

BARS = tomllib.loads((HERE / "bars.toml").read_text("utf-8"))
ENOUGH = 150


@pytest.fixture(scope="module")
def report() -> Measured:
    """Every case scored with the rules as they stand."""
    knowledge = Knowledge.from_seed()
    return reported(results_of(cases(), knowledge), knowledge, "2031-03-04")


@pytest.mark.parametrize("name", BARS)
def test_the_bar_is_reached(name: str, report: Measured) -> None:
    share = report.whole.quiet if name == "quiet" else report.whole.found[name]
    assert share.fraction is not None
    assert share.fraction >= BARS[name], f"{name}: {share.hit} of {share.of}"


def test_no_case_is_refused(report: Measured) -> None:
    assert not [w.case for w in report.wrong if any("not reviewed" in m for m in w.missed)]


def test_the_cases_are_many_and_each_has_a_name_of_its_own() -> None:
    ids = [case.id for case in cases()]
    assert len(ids) >= ENOUGH
    assert len(set(ids)) == len(ids)


def test_the_report_written_reads_back_the_same(report: Measured, tmp_path: Path) -> None:
    path = tmp_path / "measured.toml"
    path.write_text(toml_of(document_of(report)), encoding="utf-8")
    assert measured_from(read_toml(path)) == report


def test_the_report_shipped_covers_every_case() -> None:
    shipped = measured_from(read_toml(REPORT))
    assert shipped.whole.right.of == len(cases())
    assert shipped.day
