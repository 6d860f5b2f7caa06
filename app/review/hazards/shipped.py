"""The hazard log that ships with the program, and what of it no longer holds."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final

from app.catalogue.entry import EntryError
from app.cautions.registry import RULE_BY_ID
from app.review.hazards.hazard import Hazard, HazardLog
from app.review.hazards.reading import log_from
from app.storage.seed_files import SEED_DATA, SeedFault, read_toml

ROOT: Final = SEED_DATA.parent
FILE: Final = SEED_DATA / "hazards.toml"


@cache
def shipped_log() -> HazardLog:
    """The log. Raises EntryError or ValueError naming what is wrong."""
    return log_from(read_toml(FILE))


def faults_of_hazards(file: Path = FILE, root: Path = ROOT) -> tuple[SeedFault, ...]:
    """Everything wrong with the log: what cannot be read, and rules, places or tests that are gone.

    Tests are looked for by reading their files; where the tests are not at hand they are left.
    """
    try:
        log = log_from(read_toml(file))
    except (EntryError, ValueError) as fault:
        return (SeedFault(file.name, str(fault)),)
    return tuple(
        SeedFault(file.name, f"{hazard.id}.{text}")
        for hazard in log.hazards
        for text in _gone(hazard, root)
    )


def _gone(hazard: Hazard, root: Path) -> Iterator[str]:
    for rule in sorted(set(hazard.rules()) - set(RULE_BY_ID)):
        yield f"rules: {rule!r} is not accepted; accepted: the id of a rule"
    has_tests = (root / "tests").is_dir()
    for control in hazard.controls:
        place = control.place
        looked_for = place and (has_tests or not place.startswith("tests/"))
        if looked_for and not (root / place).is_file():
            yield f"place: {place!r} is not accepted; accepted: a file of the program"
    if has_tests:
        for test in sorted(set(hazard.tests())):
            file, _, name = test.partition("::")
            if name not in names_in(root / file):
                yield f"tests: {test!r} is not accepted; accepted: a test that there is"


@cache
def names_in(path: Path) -> frozenset[str]:
    """The tests of one file by name, found by reading it; none where there is no such file."""
    if not path.is_file() or not path.name.startswith("test_"):
        return frozenset()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return frozenset(
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    )
