"""The request of the interface page, and changes of it."""

from copy import deepcopy
from typing import Any

from app.lines.model import KeepApart
from app.review.lines.planned import LinePlan, plan_lines
from tests.contract.interfaces import LINE_PLAN_REQUEST as REQUEST

LR, CEF, RBC = range(3)


def changed(place: str, value: object) -> dict[str, Any]:
    """The request with one field changed, by its path: "infusions.0.kind"."""
    request = deepcopy(REQUEST)
    *steps, last = place.split(".")
    at: Any = request
    for step in steps:
        at = at[int(step)] if step.isdigit() else at[step]
    at[int(last) if last.isdigit() else last] = value
    return request


def no_pairs(names: object) -> tuple[KeepApart, ...]:
    """A table of pairs that keeps nothing apart."""
    return ()


def plan(request: dict[str, Any] = REQUEST) -> LinePlan:
    """The plan of a request, without any table of pairs."""
    return plan_lines(request, keep_apart_of=no_pairs)


TIGHT = changed("infusions.0.max_pause_min", 239)
BARRED = changed("keep_apart.0.scope", "patient")
NO_CENTRAL = changed("infusions.1.needs_central", True)
