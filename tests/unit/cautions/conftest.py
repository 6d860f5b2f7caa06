"""Every worked example, and what the review says of one."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.assess import Ruleset
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.cautions.rule import LEVELS, Limits
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.review.assess import Review, review
from app.storage.seed_files import read_pair_facts
from tests.conftest import NOW

DEFAULTS = limits_in_force(RULES)
PAIRS = read_pair_facts()
RULESET = Ruleset.of(RULES, DEFAULTS)


def outcome(reviewed: Review, rule_id: str) -> str:
    """The worst level a rule speaks at in a review, or "not assessed", or "nothing"."""
    levels = [f.finding.level for f in reviewed.all_found if f.rule.id == rule_id]
    if levels:
        return min(levels, key=LEVELS.index)
    lacking = [
        *reviewed.patient_not_assessed,
        *(n for o in reviewed.orders for n in o.not_assessed),
    ]
    return "not assessed" if any(n.rule_id == rule_id for n in lacking) else "nothing"


def only(rule_id: str, limits: Limits | None = None) -> Ruleset:
    """One rule alone, with its default limits or others."""
    rules = [rule for rule in RULES if rule.id == rule_id]
    return Ruleset.of(rules, {rule_id: limits or DEFAULTS[rule_id]})


@pytest.fixture(scope="session")
def case_of(catalogue: Catalogue, vocabulary: Vocabulary) -> Callable[[Mapping[str, Any]], Case]:
    """Read a request as the wards' words are read everywhere."""

    def read(request: Mapping[str, Any]) -> Case:
        case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
        return replace(case, pairs=PAIRS)

    return read


@pytest.fixture(scope="session")
def outcome_of(
    case_of: Callable[[Mapping[str, Any]], Case],
) -> Callable[..., str]:
    """What one rule makes of a request, with its default limits or others."""

    def of(request: Mapping[str, Any], rule_id: str, limits: Limits | None = None) -> str:
        return outcome(review(case_of(request), only(rule_id, limits)), rule_id)

    return of
