"""Limits as shipped and a hospital's own give the limits in force; a new one must make sense."""

import math
from collections.abc import Iterable, Mapping
from typing import Final

from app.catalogue.changes.change import LimitValue
from app.catalogue.entry import EntryError
from app.cautions.phrases import number
from app.cautions.rule import Limit, Rule

# A limit further off than this many times the shipped one is a slip of the pen, or another unit
# (common practice, no source).
TIMES: Final = 10.0
# A limit shipped as nothing may be raised to this much, in its own unit.
FROM_NOTHING: Final = 10.0
HIGHEST: Final = {
    "pH": 14.0, "%": 100.0, "of body weight": 1.0, "of the urine": 1.0, "of the range": 1.0,
}  # fmt: skip


def limits_in_force(
    rules: Iterable[Rule], local: Iterable[LimitValue] = ()
) -> Mapping[str, Mapping[str, float]]:
    """Limits by rule id and name: as shipped, then those the hospital has of its own.

    One of a rule or a limit that the release no longer knows is left alone.
    """
    in_force = {rule.id: {limit.name: limit.value for limit in rule.limits} for rule in rules}
    for one in local:
        if one.value is not None and one.name in in_force.get(one.rule_id, {}):
            in_force[one.rule_id][one.name] = one.value
    return in_force


def crossed(
    rule: Rule, name: str, value: float, in_force: Mapping[str, float]
) -> tuple[tuple[Limit, bool], ...]:
    """Limits of the same thing that a new value would come to lie on the other side of.

    Of the same thing: same unit, and names that begin with the same word ("adult_usual_mmol_h",
    "adult_most_mmol_h"). Each with whether the new value lies above it. Only a doubt: a unit may
    mean it. in_force: the rule's limits.
    """
    changed = next((one for one in rule.limits if one.name == name), None)
    if changed is None:
        return ()
    alike = (
        one
        for one in rule.limits
        if one.name != name and one.unit == changed.unit and _first(one.name) == _first(name)
    )
    return tuple(
        (one, value > in_force[one.name])
        for one in alike
        if (changed.value - one.value) * (value - in_force[one.name]) < 0
    )


def _first(name: str) -> str:
    return name.partition("_")[0]


def span_of(limit: Limit) -> tuple[float, float]:
    """The least and the most that makes sense for a limit, in its own unit."""
    least = 0.0 if not limit.value else limit.value / TIMES
    most = limit.value * TIMES if limit.value else FROM_NOTHING
    return least, min(most, HIGHEST.get(limit.unit, math.inf))


def limit_value_from(written: str, limit: Limit, in_force: float) -> float:
    """A new value as written. Raises EntryError for what is no number, makes no sense, or is what
    counts already.
    """
    least, most = span_of(limit)
    accepted = f"a number from {number(least)} to {number(most)} {limit.unit}, such as 5.2"
    text = written.strip().removesuffix(limit.unit).strip().replace(" ", "")
    try:
        value = float(text)
    except ValueError:
        raise EntryError("value", written, accepted) from None
    if not math.isfinite(value) or not least <= value <= most:
        raise EntryError("value", written, accepted)
    if value == in_force:
        raise EntryError("value", written, f"another value than the one in force; {accepted}")
    return value
