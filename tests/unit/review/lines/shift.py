"""The request of the interface page, and changes of it."""

from copy import deepcopy
from typing import Any

from app.lines.model import KeepApart
from app.review.lines.planned import LinePlan, plan_lines

REQUEST: dict[str, Any] = {
    "horizon_min": 720,
    "step_min": 5,
    "flush_min": 0,
    "lumens": [{"id": "p1", "site": "peripheral"}],
    "infusions": [
        {
            "id": "lr",
            "name": "lactated Ringer's 100 mL/h",
            "kind": "continuous",
            "may_pause": True,
            "max_pause_min": 240,
        },
        {
            "id": "cef",
            "name": "ceftriaxone",
            "kind": "intermittent",
            "duration_min": 60,
            "earliest_start_min": 120,
            "latest_end_min": 480,
        },
        {
            "id": "rbc",
            "name": "red cells",
            "kind": "blood",
            "duration_min": 180,
            "earliest_start_min": 0,
            "latest_end_min": 720,
            "exclusive": True,
            "may_share_with_exclusive": ["ns"],
            "needs_central": False,
        },
    ],
    "keep_apart": [{"pair": ["lr", "cef"], "scope": "lumen"}],
    "use_catalogue": False,
}
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
