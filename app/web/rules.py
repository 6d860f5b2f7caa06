"""Every caution rule as it stands: what triggers it, its limits, and why."""

from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby
from typing import Final

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from app.cautions.describe import RuleText, described
from app.cautions.example import Example, examples_of
from app.cautions.registry import ALL_RULES, RULE_BY_ID
from app.cautions.rule import Rule
from app.review.knowledge import Knowledge
from app.storage.seed_files import SEED_DATA, read_toml
from app.web.advice.example_words import ExampleView, example_view
from app.web.render import render
from app.web.show import capital, sentence

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
NAMES: Final = {"order": "The order itself", "data": "The data itself", "acid": "Acid and base"}


@dataclass(frozen=True, slots=True)
class Family:
    """Rules that share a subject."""

    key: str
    name: str
    rules: tuple[RuleText, ...]


@dataclass(frozen=True, slots=True)
class RulesPage:
    """All rules by family, and the version they make together."""

    families: tuple[Family, ...]
    count: int
    version: str


@dataclass(frozen=True, slots=True)
class RulePage:
    """One rule with its worked examples."""

    rule: RuleText
    family: str
    examples: tuple[ExampleView, ...]
    version: str


@router.get("/rules")
def list_rules(request: Request) -> HTMLResponse:
    """Every rule, by family."""
    knowledge: Knowledge = request.app.state.knowledge
    return render(request, "rules/list.html", rules_page(knowledge))


@router.get("/rules/{rule_id}")
def show_rule(request: Request, rule_id: str) -> HTMLResponse:
    """One rule."""
    rule = RULE_BY_ID.get(rule_id)
    if rule is None:
        raise HTTPException(NOT_FOUND, f"There is no rule “{rule_id}”.")
    return render(request, "rules/rule.html", rule_page(rule, request.app.state.knowledge))


def rules_page(knowledge: Knowledge) -> RulesPage:
    """The list, with the limits in force."""
    by_family = groupby(sorted(ALL_RULES, key=family_of), key=family_of)
    families = tuple(
        Family(key, family_name(key), tuple(_text(rule, knowledge) for rule in rules))
        for key, rules in by_family
    )
    return RulesPage(families, len(ALL_RULES), knowledge.ruleset.version)


def rule_page(rule: Rule, knowledge: Knowledge) -> RulePage:
    """One rule, with the examples that its tests run."""
    examples = tuple(example_view(e) for e in all_examples() if e.rule == rule.id)
    version = knowledge.ruleset.version
    return RulePage(_text(rule, knowledge), family_name(family_of(rule)), examples, version)


def _text(rule: Rule, knowledge: Knowledge) -> RuleText:
    text = described(rule, knowledge.ruleset.limits.get(rule.id))
    return replace(text, unless=sentence(text.unless))


def family_of(rule: Rule) -> str:
    """The family's key: its place under app/cautions/families; "data" for the data's own rules."""
    check = rule.for_order or rule.for_patient
    if check is None:
        return "data"
    _, _, inside = check.__module__.partition(".families.")
    return inside.split(".")[0].split("_")[0]


def family_name(key: str) -> str:
    """The family as a heading."""
    return NAMES.get(key, capital(key))


@cache
def all_examples() -> tuple[Example, ...]:
    """Every worked example of seed_data/, in file order."""
    files = sorted((SEED_DATA / "rule_examples").glob("*.toml"))
    return tuple(example for file in files for example in examples_of(read_toml(file)))
