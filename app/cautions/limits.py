"""Default limits and a hospital's dated changes give the limits in force."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from app.cautions.rule import Rule


@dataclass(frozen=True, slots=True)
class LimitChange:
    """A local change of one limit: from a day on, with a reason and a name."""

    rule_id: str
    name: str
    value: float
    from_day: date
    reason: str
    by: str


def limits_in_force(
    rules: Iterable[Rule], changes: Iterable[LimitChange] = (), *, on: date
) -> Mapping[str, Mapping[str, float]]:
    """Limits by rule id and name on a day: defaults, then each change whose day has come."""
    in_force = {rule.id: {limit.name: limit.value for limit in rule.limits} for rule in rules}
    for change in sorted(changes, key=lambda c: c.from_day):
        if change.from_day <= on and change.name in in_force.get(change.rule_id, {}):
            in_force[change.rule_id][change.name] = change.value
    return in_force
