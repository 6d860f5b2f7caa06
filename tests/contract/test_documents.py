"""The documents say what the code does."""

import re
from importlib.util import find_spec

from app.cautions.registry import RULES
from tests.contract.generated_blocks import BLOCKS, DEVELOPERS, MARK, ROOT, rewritten


def test_the_generated_blocks_are_fresh() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    assert rewritten(text) == text, "run `make fix`"


def test_every_generated_block_has_its_place() -> None:
    assert {m[1] for m in MARK.findall(DEVELOPERS.read_text(encoding="utf-8"))} == set(BLOCKS)


def test_the_readme_opens_with_the_job_and_names_both_commands() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    first = readme.split("\n\n")[1]
    assert "intravenous" in first
    assert len(first) > 300
    assert "make run" in readme
    assert "make test" in readme


def test_every_picture_of_the_readme_is_there() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    pictures = [part.split(")")[0] for part in readme.split("](")[1:] if part[:7] == "static/"]
    assert pictures
    assert all((ROOT / picture).exists() for picture in pictures)


def test_released_rule_ids_never_vanish() -> None:
    released = (ROOT / "tests/contract/released_rule_ids.txt").read_text().split()
    assert set(released) <= {rule.id for rule in RULES}
    assert {rule.id for rule in RULES} <= set(released), "add new ids to released_rule_ids.txt"


def test_every_module_the_makefile_runs_is_there() -> None:
    named = re.findall(r"-m (tests[\w.]+)", (ROOT / "Makefile").read_text(encoding="utf-8"))
    assert named
    assert all(find_spec(module) for module in named)
