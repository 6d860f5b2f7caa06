"""How good the review is on the panel's cases: `python -m tests.cases.score [ID…]`.

With `--write DAY` the report goes to seed_data/measured.toml, which the page "How good is it?"
shows. Cases are kept apart from the rules' own examples and were written without seeing the rules.
"""

import argparse
import json
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from app.cautions.rule import LEVELS
from app.review.knowledge import Knowledge
from app.review.measured.report import Measured, document_of, first_met_from, measured
from app.review.measured.score import Scored, Vignette, scored, vignette_of
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request
from app.storage.seed_files import SEED_DATA

HERE: Final = Path(__file__).resolve().parent
REPORT: Final = SEED_DATA / "measured.toml"
HEAD: Final = "# Made by `make measure`; not edited by hand.\n"


def cases() -> tuple[Vignette, ...]:
    """Every case of every panel member."""
    return tuple(
        vignette_of(case, path.stem)
        for path in sorted(HERE.glob("*/*.toml"))
        for case in tomllib.loads(path.read_text("utf-8")).get("case", ())
    )


def results_of(vignettes: Iterable[Vignette], knowledge: Knowledge) -> list[Scored]:
    """Each case reviewed."""
    return [scored(one, lambda request: review_request(request, knowledge)) for one in vignettes]


def reported(results: Sequence[Scored], knowledge: Knowledge, day: str) -> Measured:
    """The report, with what each panel's cases gave when they were first met."""
    report = measured(results, day=day, versions=versions_of(knowledge))
    first = tomllib.loads((HERE / "first_met.toml").read_text("utf-8"))["panel"]
    return replace(report, first_met=tuple(map(first_met_from, first)))


def lines_of(report: Measured, results: Iterable[Scored]) -> Iterator[str]:
    """Sensitivity by level, false alarms, and each case not said as wanted with what was said."""
    for level, share in report.whole.found.items():
        yield f"{level}: {share.hit} of {share.of} found"
    yield f"quiet cases kept quiet: {report.whole.quiet.hit} of {report.whole.quiet.of}"
    yield f"false alarms by rule: {dict(report.false_alarms)}"
    said = {result.vignette.id: result.said for result in results}
    for wrong in report.wrong:
        yield f"{wrong.case} [{wrong.group}] {wrong.title}"
        yield from (f"    missed: {missed}" for missed in wrong.missed)
        yield from (f"    false alarm: {rule}" for rule in wrong.false_alarms)
        heard = sorted(said[wrong.case].items())
        yield f"    said: {', '.join(f'{rule}:{LEVELS[rank][0]}' for rule, rank in heard)}"


def toml_of(document: dict[str, Any]) -> str:
    """A report as TOML: values, then tables, then lists of tables."""
    plain = {k: v for k, v in document.items() if not isinstance(v, dict | list)}
    text = HEAD + _values(plain)
    for name, part in document.items():
        if isinstance(part, dict):
            text += f"\n[{name}]\n{_values(part)}"
        elif isinstance(part, list):
            text += "".join(f"\n[[{name}]]\n{_values(row)}" for row in part)
    return text


def _values(table: dict[str, Any]) -> str:
    # A JSON text, number or list of them is written the same in TOML.
    return "".join(f"{k} = {json.dumps(v, ensure_ascii=False)}\n" for k, v in table.items())


def main() -> None:
    """Print the report, or write it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("ids", nargs="*", help="only cases whose id begins with one of these")
    parser.add_argument("--write", metavar="DAY", help="write the report, dated this day")
    asked = parser.parse_args()
    chosen = [c for c in cases() if not asked.ids or c.id.startswith(tuple(asked.ids))]
    knowledge = Knowledge.from_seed()
    results = results_of(chosen, knowledge)
    report = reported(results, knowledge, asked.write or "")
    if asked.write:
        REPORT.write_text(toml_of(document_of(report)), encoding="utf-8")
    else:
        print("\n".join(lines_of(report, results)))


if __name__ == "__main__":
    main()
