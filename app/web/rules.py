"""Every caution rule as it stands: what triggers it, its limits, and why."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby
from typing import Annotated, Final

from fastapi import APIRouter, HTTPException, Query, Request
from fastapi.responses import HTMLResponse

from app.cautions.describe import RuleText, described
from app.cautions.example import Example, examples_of
from app.cautions.registry import ALL_RULES, RULE_BY_ID
from app.cautions.rule import LEVELS, Rule
from app.cautions.switches import NEVER_OFF
from app.review.knowledge import Knowledge, Past
from app.security.acts import Act
from app.storage.database import reading
from app.storage.seed_files import SEED_DATA, read_toml
from app.web.advice.example_words import ExampleView, example_view
from app.web.at_hand import knowledge
from app.web.changes.local import Local, Off, OwnLimit, local_of
from app.web.changes.rows import ChangeRow
from app.web.changes.signed import here
from app.web.render import render
from app.web.show import capital, sentence
from app.web.who import person_of

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
LONGEST_SEARCH: Final = 80
# A rule's id inside a sentence of another rule.
RULE_ID: Final = re.compile(r"\b[a-z0-9]+(?:-[A-Za-z0-9]+)+\b")
NAMES: Final = {"order": "The order itself", "data": "The data itself", "acid": "Acid and base"}


@dataclass(frozen=True, slots=True)
class Family:
    """Rules that share a subject."""

    key: str
    name: str
    rules: tuple[RuleText, ...]


@dataclass(frozen=True, slots=True)
class RulesPage:
    """Rules by family, all or those a search found, and the version all make together.

    local: what is this hospital's own. own: whether only such rules were asked for.
    """

    find: str
    level: str
    own: bool
    families: tuple[Family, ...]
    found: int
    count: int
    version: str
    local: Local


@dataclass(frozen=True, slots=True)
class RulePage:
    """One rule with its worked examples. told: its sentences, other rules' names as links.

    own: limits of which this hospital has a value of its own, by name. off: how it was switched
    off here, or None. open: what is drafted of it. may_draft: who looks may draft a change.
    """

    rule: RuleText
    told: Mapping[str, tuple[tuple[str, str], ...]]
    family: str
    examples: tuple[ExampleView, ...]
    version: str
    own: Mapping[str, OwnLimit]
    off: Off | None
    open: tuple[ChangeRow, ...]
    may_draft: bool
    may_switch: bool


@router.get("/rules")
def list_rules(
    request: Request,
    words: Annotated[str, Query(alias="find")] = "",
    level: str = "",
    own: str = "",
) -> HTMLResponse:
    """Every rule by family, or those in which every word stands and which speak at a level; with
    own, those of which this hospital changed something.
    """
    asked = Asked(words[:LONGEST_SEARCH].strip(), level if level in LEVELS else "", bool(own))
    view = rules_page(knowledge(request), asked, _local(request))
    return render(request, "rules/list.html", view, part="rules/_rules.html")


def _local(request: Request) -> Local:
    with reading(request.app.state.engine) as session:
        return local_of(Past.of(session), knowledge(request), here(session))


@router.get("/rules/{rule_id}")
def show_rule(request: Request, rule_id: str) -> HTMLResponse:
    """One rule."""
    rule = RULE_BY_ID.get(rule_id)
    if rule is None:
        raise HTTPException(NOT_FOUND, f"There is no rule “{rule_id}”.")
    person = person_of(request)
    may = person is not None and person.may(Act.DRAFT)
    view = rule_page(rule, knowledge(request), _local(request), may_draft=may)
    return render(request, "rules/rule.html", view)


@dataclass(frozen=True, slots=True)
class Asked:
    """What rules are asked for. level: empty for all. own: only what this hospital changed."""

    words: str = ""
    level: str = ""
    own: bool = False


ALL: Final = Asked()
NOTHING_OWN: Final = Local()


def rules_page(knowledge: Knowledge, asked: Asked = ALL, local: Local = NOTHING_OWN) -> RulesPage:
    """The list, with the limits in force."""
    changed = {*local.own, *local.off, *local.open}
    spoken = [r for r in ALL_RULES if not asked.level or asked.level in r.levels]
    found = [r for r in spoken if _has_words(r, asked.words) and (not asked.own or r.id in changed)]
    by_family = groupby(sorted(found, key=family_of), key=family_of)
    families = tuple(
        Family(key, family_name(key), tuple(_text(rule, knowledge) for rule in rules))
        for key, rules in by_family
    )
    version = knowledge.ruleset.version
    return RulesPage(
        asked.words, asked.level, asked.own, families, len(found), len(ALL_RULES), version, local
    )


def _has_words(rule: Rule, words: str) -> bool:
    """Whether every word asked for stands somewhere in the rule."""
    text = " ".join((rule.id, rule.title, rule.trigger, rule.unless, rule.do, rule.evidence))
    whole = f"{text} {family_name(family_of(rule))}".lower()
    return all(word in whole for word in words.lower().split())


def with_links(text: str) -> Iterator[tuple[str, str]]:
    """A sentence in pieces, each with the id of the rule it names, or ""."""
    at = 0
    for match in RULE_ID.finditer(text):
        if match[0] in RULE_BY_ID:
            yield text[at : match.start()], ""
            yield f"“{RULE_BY_ID[match[0]].title}”", match[0]
            at = match.end()
    yield text[at:], ""


def rule_page(
    rule: Rule, knowledge: Knowledge, local: Local = NOTHING_OWN, *, may_draft: bool = False
) -> RulePage:
    """One rule, with the examples that its tests run, and what is this hospital's own."""
    examples = tuple(example_view(e) for e in all_examples() if e.rule == rule.id)
    version = knowledge.ruleset.version
    text = described(rule, knowledge.ruleset.limits.get(rule.id))
    sentences = {
        "Speaks when": text.trigger,
        "Unless": sentence(text.unless) or "No exception is written down.",
        "What to do": text.do,
        "Evidence": text.evidence,
    }
    told = {name: tuple(with_links(words)) for name, words in sentences.items()}
    return RulePage(
        rule=text,
        told=told,
        family=family_name(family_of(rule)),
        examples=examples,
        version=version,
        own=local.own.get(rule.id, {}),
        off=local.off.get(rule.id),
        open=local.open.get(rule.id, ()),
        may_draft=may_draft,
        may_switch=may_draft and rule.id not in NEVER_OFF,
    )


def _text(rule: Rule, knowledge: Knowledge) -> RuleText:
    text = described(rule, knowledge.ruleset.limits.get(rule.id))
    return replace(text, trigger="".join(piece for piece, _ in with_links(text.trigger)))


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
