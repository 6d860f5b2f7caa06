"""`make fluid`, `make rule`, `make page` copy something that works as it is."""

import runpy
import tomllib
from pathlib import Path

import pytest

from app.catalogue.check import check_fluid
from app.catalogue.entry import fluid_from
from app.cautions.example import examples_of
from tests.skeletons.copy import copy


def test_a_copied_fluid_reads_and_passes_its_checks(tmp_path: Path) -> None:
    (made,) = copy("fluid", "ringers-acetate-2", tmp_path)
    fluid = fluid_from(tomllib.loads(made.read_text()), file_id="ringers-acetate-2")
    assert not check_fluid(fluid)


def test_a_copied_rule_has_a_check_and_three_examples(tmp_path: Path) -> None:
    family, examples = copy("rule", "magnesium-renal", tmp_path)
    (rule,) = runpy.run_path(str(family))["RULES"]
    assert rule.id == "magnesium-renal"
    given = examples_of(tomllib.loads(examples.read_text()))
    assert [e.expect for e in given] == ["warning", "nothing", "nothing"]
    assert {e.rule for e in given} == {rule.id}


def test_a_copied_page_compiles_and_has_template_part_and_test(tmp_path: Path) -> None:
    route, *others = copy("page", "next-bags", tmp_path)
    assert "router" in runpy.run_path(str(route))
    assert {path.name for path in others} == {"next_bags.html", "_list.html", "test_next_bags.py"}
    assert all("SNAKE" not in path.read_text() for path in [route, *others])


def test_nothing_is_written_over(tmp_path: Path) -> None:
    copy("fluid", "again", tmp_path)
    with pytest.raises(SystemExit, match="is there already"):
        copy("fluid", "again", tmp_path)
