"""Tests made from every rule and every worked example in seed_data/rule_examples/."""

import re
from collections import Counter, defaultdict
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import pytest

from app.cautions import families
from app.cautions.example import Example, blanked, examples_of, without_patient
from app.cautions.phrases import number
from app.cautions.registry import RULES
from app.cautions.rule import Finding, Limit, Rule
from app.review.assess import review
from app.storage.seed_files import SEED_DATA, read_toml
from tests.unit.cautions.conftest import DEFAULTS, RULESET, only

FILES = sorted((SEED_DATA / "rule_examples").glob("*.toml"))
EXAMPLES = [(path.stem, example) for path in FILES for example in examples_of(read_toml(path))]
BY_RULE: dict[str, list[Example]] = defaultdict(list)
for _, example in EXAMPLES:
    BY_RULE[example.rule].append(example)
LIMITS = [(rule, limit) for rule in RULES for limit in rule.limits if not limit.advised]
ADVISED = [(rule, limit) for rule in RULES for limit in rule.limits if limit.advised]
FIRING = [example for _, example in EXAMPLES if example.fires]
OUT_OF_REACH = (1e9, -1e9)
SUMMARY_AT_MOST = 139
# An act so dangerous in itself that it is critical whoever lies in the bed.
CRITICAL_BY_ITSELF = {
    "cef-ca-neonate": "crystals have killed newborns",
    "cef-ca-diluent": "crystals are in the bag before it is hung",
    "k-concentrate": "concentrated potassium",
    "k-bolus": "concentrated potassium, given fast",
    "add-bicarb-ca": "chalk is in the bag before it is hung",
    "ca-phos-mix": "crystals are in the bag before it is hung, and have killed",
    "line-shared-lumen": "two that clash are themselves written to run together",
    "water-alone": "haemolysis",
    "alb-water": "haemolysis",
    "na-concentrate": "concentrated saline hung as it is",
    "ord-rate-missing": "a bag that cannot be given at all as it is written, whoever lies there",
}

OutcomeOf = Callable[..., str]


def named(example: Example) -> str:
    return f"{example.rule}: {example.title}"


@pytest.mark.parametrize("example", [e for _, e in EXAMPLES], ids=named)
def test_an_example_gives_what_it_says(example: Example, outcome_of: OutcomeOf) -> None:
    assert outcome_of(example.request, example.rule) == example.expect


@pytest.mark.parametrize(
    ("example", "need"),
    [pytest.param(e, n, id=f"{named(e)} without {n}") for e in FIRING for n in e.needs],
)
def test_without_what_it_needs_a_rule_says_it_was_not_assessed(
    example: Example, need: str, outcome_of: OutcomeOf
) -> None:
    assert outcome_of(blanked(example.request, need), example.rule) == "not assessed"


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_need_of_a_rule_is_shown_by_a_firing_example(rule: Rule) -> None:
    shown = {need for example in BY_RULE[rule.id] for need in example.needs if example.fires}
    assert shown == set(rule.needs)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_has_an_example_that_fires_and_two_that_stay_silent(rule: Rule) -> None:
    said = Counter(example.expect for example in BY_RULE[rule.id])
    assert said["critical"] + said["warning"] + said["info"] >= 1
    assert said["nothing"] >= 2


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_levels_of_a_rule_are_those_its_examples_show(rule: Rule) -> None:
    shown = {example.expect for example in BY_RULE[rule.id] if example.fires}
    assert shown == set(rule.levels)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_says_all_that_its_page_needs(rule: Rule) -> None:
    for text in (rule.title, rule.trigger, rule.unless, rule.do, rule.evidence):
        assert text.strip()
    assert rule.trigger.endswith(".")
    assert rule.do.endswith(".")
    assert rule.sources
    assert all(source.work for source in rule.sources)
    assert all(limit.unit for limit in rule.limits)
    assert rule.for_order or rule.for_patient


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_example_is_of_a_rule_we_have_and_is_told_apart_by_its_title(path: Path) -> None:
    examples = examples_of(read_toml(path))
    assert {example.rule for example in examples} <= {rule.id for rule in RULES}
    assert not [named for named, n in Counter((e.rule, e.title) for e in examples).items() if n > 1]


def test_rule_ids_are_unique() -> None:
    assert not [rule_id for rule_id, n in Counter(rule.id for rule in RULES).items() if n > 1]


def test_every_family_file_is_registered() -> None:
    folder = Path(families.__path__[0])
    for path in folder.rglob("*.py"):
        if path.name == "__init__.py":
            continue
        dotted = ".".join(path.relative_to(folder).with_suffix("").parts)
        family = import_module(f"app.cautions.families.{dotted}")
        assert set(getattr(family, "RULES", ())) <= set(RULES), path.name


@pytest.mark.parametrize(
    ("rule", "limit"),
    [pytest.param(rule, limit, id=f"{rule.id} {limit.name}") for rule, limit in LIMITS],
)
def test_a_limit_is_alive(rule: Rule, limit: Limit, outcome_of: OutcomeOf) -> None:
    """Pushed out of reach, one way or the other, it changes what at least one example gives."""
    for value in OUT_OF_REACH:
        limits = {**DEFAULTS[rule.id], limit.name: value}
        for example in BY_RULE[rule.id]:
            if outcome_of(example.request, rule.id, limits) != example.expect:
                return
    pytest.fail(f"no example of {rule.id} depends on {limit.name}")


@pytest.mark.parametrize(
    ("rule", "limit"),
    [pytest.param(rule, limit, id=f"{rule.id} {limit.name}") for rule, limit in ADVISED],
)
def test_what_is_advised_says_the_limit_in_force(
    rule: Rule, limit: Limit, case_of: Callable[..., object]
) -> None:
    example = next(example for example in BY_RULE[rule.id] if example.fires)
    limits = {**DEFAULTS[rule.id], limit.name: 77.0}
    reviewed = review(case_of(example.request), only(rule.id, limits))  # type: ignore[arg-type]
    (found,) = reviewed.all_found
    assert f" {limit.value:g} " in rule.do
    assert " 77 " in found.finding.do
    assert "77" not in rule.do


@pytest.mark.parametrize("example", FIRING, ids=named)
def test_a_finding_can_be_read_aloud(example: Example, case_of: Callable[..., object]) -> None:
    reviewed = review(case_of(example.request), RULESET)  # type: ignore[arg-type]
    for found in reviewed.all_found:
        faults = faults_of(found.rule, found.finding)
        assert not faults, f"{found.rule.id}: {found.finding.summary!r} {faults}"


def faults_of(rule: Rule, finding: Finding) -> list[str]:
    """What is wrong with a finding's words."""
    faults = []
    if len(finding.summary) > SUMMARY_AT_MOST:
        faults.append(f"{len(finding.summary)} characters")
    if not finding.summary.endswith("."):
        faults.append("no full stop")
    if re.search(r"[<>]|\d\.\d*0 |\bNone\b|\{|\}", finding.summary + finding.why):
        faults.append("signs that are not read aloud")
    if not finding.why.strip():
        faults.append("does not say why")
    if not set(finding.limits) <= {limit.name for limit in rule.limits}:
        faults.append("names a limit the rule lacks")
    if finding.limits and not shows_a_figure(finding):
        faults.append("shows none of the figures it compared")
    if finding.level not in rule.levels:
        faults.append("a level the rule does not declare")
    return faults


def shows_a_figure(finding: Finding) -> bool:
    """True when one of the figures compared stands in the summary."""
    for value in finding.figures.values():
        forms = {str(value)}
        if not isinstance(value, str):
            forms = {number(value), f"{value:g}", f"{value:.0f}", f"{value:.1f}", f"{value:.2g}"}
        if value == 0:
            forms |= {"(no ", "bring no "}
        if any(form in finding.summary for form in forms):
            return True
    return False


@pytest.mark.parametrize(
    "example", [e for e in FIRING if e.rule not in CRITICAL_BY_ITSELF], ids=named
)
def test_nothing_is_critical_once_the_patient_is_taken_away(
    example: Example, outcome_of: OutcomeOf
) -> None:
    assert outcome_of(without_patient(example.request), example.rule) != "critical"


def test_one_rule_alone_says_the_same_as_all_together() -> None:
    assert {rule.id for rule in RULES} == set(DEFAULTS)
    assert only("k-hyper").version != RULESET.version
