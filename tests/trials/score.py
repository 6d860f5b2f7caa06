"""How far off the prediction is: `python -m tests.trials.score [STUDY…]`.

With `--write DAY` every point goes to seed_data/predicted.toml, which the page "How far off was
it?" and the label beside a prediction read.
"""

import argparse
import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any, Final

from app.review.trials.errors import BARS, QUANTITIES, Error, by_quantity, error_of
from app.review.trials.fluids import band_text, trial_fluids_from
from app.review.trials.report import Report, document_of
from app.review.trials.rows import comparisons_of, row_from
from app.review.trials.score import Point, points_of
from app.review.trials.shipped import REPORT, model_version
from app.storage.seed_files import read_fluids
from tests.trials.files import read_trial_fluids, read_trial_rows

HEAD: Final = "# Made by `make measure`; not edited by hand.\n"


def scored(day: str = "") -> Report:
    """Every row predicted anew."""
    rows = [row_from(table, held_out=held_out) for table, held_out in read_trial_rows()]
    catalogue, _ = read_fluids()
    fluids = trial_fluids_from(read_trial_fluids(), catalogue)
    return Report(day, model_version(), points_of(comparisons_of(rows), fluids))


def toml_of(document: dict[str, Any]) -> str:
    """The report as TOML: a text, number or truth is written as in JSON."""
    plain = {key: value for key, value in document.items() if key != "point"}
    tables = "".join(f"\n[[point]]\n{_values(point)}" for point in document["point"])
    return HEAD + _values(plain) + tables


def _values(table: dict[str, Any]) -> str:
    return "".join(f"{k} = {json.dumps(v, ensure_ascii=False)}\n" for k, v in table.items())


def lines_of(points: Sequence[Point]) -> Iterator[str]:
    """Each point, then the error of each set by quantity."""
    for point in points:
        _, unit, places = QUANTITIES[point.quantity]
        told = f"{point.measured:8.{places}f} {point.predicted:8.{places}f} {point.off:8.{places}f}"
        yield f"{point.row:36} {point.quantity:20} {told} {unit}"
    open_rows = [point for point in points if not point.held_out]
    ours = [point for point in points if point.held_out]
    yield from _errors("rows that parameters were set from", open_rows)
    yield from _errors("held out", ours)
    yield from _errors("held out, seen", [point for point in ours if point.seen])
    yield from _errors("all", points)
    yield from _sides(points)


def _sides(points: Sequence[Point]) -> Iterator[str]:
    """To which side it errs: one row of a table may be wrong, a kind of fluid seldom is."""
    yield "by quantity, fluid and dose: off, mean side (predicted less measured), inside, groups"
    for quantity, some in by_quantity(points).items():
        ranked = sorted(some, key=lambda p: (p.kind, p.band))
        for (kind, band), like in groupby(ranked, key=lambda p: (p.kind, p.band)):
            rows = list(like)
            error = error_of(rows)
            assert error is not None
            held_out = len({p.arm for p in rows if p.held_out})
            yield (
                f"  {quantity:20} {kind:14} {band_text(kind, band):34} {error.off:7.3f} "
                f"{error.bias:+8.3f} {_inside(error):>5} {error.groups} ({held_out} held out)"
                f"{' ONE SIDE' if error.one_sided else ''}"
            )


def _errors(title: str, points: Iterable[Point]) -> Iterator[str]:
    yield f"{title}: quantity, mean distance (had it said no change), bar, points, groups, inside"
    for quantity, some in by_quantity(points).items():
        if error := error_of(some):
            bar = BARS.get(quantity)
            yield (
                f"  {quantity:20} {error.off:7.3f} ({error.still:6.3f}) bar {bar} "
                f"{error.points} {error.groups} {_inside(error)}"
                f"{' MISSED' if bar and error.off > bar else ''}"
            )


def _inside(error: Error) -> str:
    return "" if error.inside is None else f"{error.inside:.0%}"


def main() -> None:
    """Print the table, or write the report."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("studies", nargs="*", help="only studies whose id begins with one of these")
    parser.add_argument("--write", metavar="DAY", help="write the report, dated this day")
    asked = parser.parse_args()
    report = scored(asked.write or "")
    if asked.write:
        REPORT.write_text(toml_of(document_of(report)), encoding="utf-8")
        return
    begins = tuple(asked.studies) or ("",)
    print("\n".join(lines_of([p for p in report.points if p.study.startswith(begins)])))


if __name__ == "__main__":
    main()
