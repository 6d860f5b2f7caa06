"""Every control of the log that ships is there, and what proves it is there too."""

from pathlib import Path

import pytest

from app.cautions.registry import ALL_RULES
from app.review.hazards.shipped import FILE, ROOT, faults_of_hazards, names_in, shipped_log

FEWEST = 30


def test_nothing_named_in_the_log_is_gone() -> None:
    assert "\n".join(map(str, faults_of_hazards())) == ""


def test_the_log_is_long_enough_to_be_of_use_and_names_what_is_open() -> None:
    log = shipped_log()
    assert len(log.hazards) >= FEWEST
    assert len(log.known_open()) >= 1


def test_every_rule_that_may_be_loud_stands_against_a_hazard() -> None:
    named = {rule for hazard in shipped_log().hazards for rule in hazard.rules()}
    loud = {rule.id for rule in ALL_RULES if set(rule.levels) & {"critical", "warning"}}
    assert loud - named == set()


def test_what_is_high_with_its_controls_is_open() -> None:
    log = shipped_log()
    silent = [
        hazard.id
        for hazard in log.hazards
        if log.scale.band(hazard.risk_after) == "high" and hazard.state != "open"
    ]
    assert silent == []


def test_nothing_is_closed_by_people_alone() -> None:
    for hazard in shipped_log().hazards:
        assert any(not control.is_procedure for control in hazard.controls), hazard.id


@pytest.mark.parametrize(
    ("word", "instead", "told"),
    [
        ('"k-hyper"', '"k-hypr"', "potassium-high.rules: 'k-hypr'"),
        ('place = "app/lines/check.py"', 'place = "app/lines/chek.py"', "plan-wrong.place"),
        ("::test_a_planted_fault_is_found", "::test_a_planted_fault", "plan-wrong.tests"),
        ("tests/unit/lines/test_check.py", "tests/unit/lines/test_chek.py", "plan-wrong.tests"),
        ("severity = 5", "severity = 50", "fluid-misread.severity"),
        ("[scale]", "[scale", "not readable as TOML"),
    ],
)
def test_what_is_gone_is_told_with_its_hazard(
    tmp_path: Path, word: str, instead: str, told: str
) -> None:
    text = FILE.read_text(encoding="utf-8")
    assert word in text
    changed = tmp_path / "hazards.toml"
    changed.write_text(text.replace(word, instead), encoding="utf-8")
    faults = faults_of_hazards(changed)
    assert faults
    assert told in str(faults[0])


def test_where_the_tests_are_not_at_hand_the_rest_is_checked(tmp_path: Path) -> None:
    for part in ("app", "templates", "static", "migrations"):
        (tmp_path / part).symlink_to(ROOT / part)
    assert faults_of_hazards(root=tmp_path) == ()
    (tmp_path / "app").unlink()
    assert "place" in str(faults_of_hazards(root=tmp_path)[0])


def test_tests_are_found_by_reading_and_only_in_test_files(tmp_path: Path) -> None:
    text = "def test_a() -> None: ...\n\ndef helper() -> None:\n    def test_b() -> None: ...\n"
    (tmp_path / "test_x.py").write_text(text)
    (tmp_path / "helper.py").write_text(text)
    assert names_in(tmp_path / "test_x.py") == {"test_a"}
    assert names_in(tmp_path / "helper.py") == frozenset()
    assert names_in(tmp_path / "none.py") == frozenset()
