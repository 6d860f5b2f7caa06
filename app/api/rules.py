"""GET /api/rules: every caution rule as data, with the limits in force."""

from typing import Any

from fastapi import APIRouter, Request, Response

from app.api.reading import JsonReply
from app.cautions.registry import ALL_RULES
from app.cautions.rule import Limits, Rule
from app.cautions.switches import SwitchedOff

router = APIRouter(tags=["rules"])


def rule_as_data(rule: Rule, in_force: Limits, off: SwitchedOff | None = None) -> dict[str, Any]:
    """One rule: what triggers it, its limits as shipped and in force, and its sources.

    off: how it was switched off here, where it was.
    """
    return {
        "id": rule.id,
        "title": rule.title,
        "trigger": rule.trigger,
        "unless": rule.unless,
        "do": rule.do,
        "evidence": rule.evidence,
        "level": list(rule.levels),
        "population": rule.population,
        "needs": list(rule.needs),
        "status": rule.status,
        "switched_off": None if off is None else _off(off),
        "limits": [
            {
                "name": limit.name,
                "value": in_force[limit.name],
                "shipped": limit.value,
                "unit": limit.unit,
                "meaning": limit.meaning,
            }
            for limit in rule.limits
        ],
        "sources": [
            {"work": s.work, "place": s.place, "seen": s.seen, "note": s.note} for s in rule.sources
        ],
    }


def _off(off: SwitchedOff) -> dict[str, str]:
    return {
        "since": off.since.isoformat(),
        "by": off.by,
        "reason": off.reason,
        "review_on": off.review_on.isoformat(),
    }


@router.get("/rules", response_class=JsonReply)
def all_rules(request: Request) -> Response:
    """Every rule, in the order of the registry, with the version of rules and limits."""
    ruleset = request.app.state.knowledge.ruleset
    off = {one.rule.id: one for one in ruleset.switched_off}
    rules = [
        rule_as_data(rule, ruleset.limits.get(rule.id, {}), off.get(rule.id)) for rule in ALL_RULES
    ]
    return JsonReply({"ruleset": ruleset.version, "rules": rules})
