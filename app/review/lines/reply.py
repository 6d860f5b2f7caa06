"""A line plan as the reply of POST /api/line-plan: ready data."""

from typing import Any

from app.lines.model import KeepApart, Placement
from app.lines.steps import Step, flush_ml
from app.lines.ways import Way
from app.review.lines.planned import LinePlan
from app.review.lines.sentences import change_text, effect_text, why_not
from app.review.predict.notes import Note


def reply_of(plan: LinePlan) -> dict[str, Any]:
    """The reply as the outside interface names it, with the pairs counted and how it was read.

    Without a plan its costs are null.
    """
    solution, found = plan.solution, plan.solution.plan
    return {
        "feasible": solution.feasible,
        "extra_cannulas": None if found is None else found.extra_cannulas,
        "interruptions": None if found is None else found.interruptions,
        "minutes_paused": None if found is None else found.minutes_paused,
        "proven_optimal": solution.proven_optimal,
        "plan": [] if found is None else [_placement(one) for one in found.placements],
        "steps": [_step(one) for one in plan.steps],
        "why_not": None if solution.feasible else _why_not(plan),
        "ways_out": [_way(plan, one) for one in plan.ways],
        "flush_ml": flush_ml(plan.steps),
        "keep_apart": [_pair(one) for one in plan.problem.keep_apart],
        "notes": [_note(one) for one in plan.notes],
    }


def _placement(one: Placement) -> dict[str, Any]:
    return {
        "infusion_id": one.infusion_id,
        "lumen_id": one.lumen_id,
        "runs": [[run.start_min, run.end_min] for run in one.runs],
    }


def _step(one: Step) -> dict[str, Any]:
    return {"at_min": one.at_min, "lumen_id": one.lumen_id, "do": one.do, "what": one.what}


def _why_not(plan: LinePlan) -> dict[str, Any]:
    solution = plan.solution
    return {
        "clash": list(solution.clash),
        "text": why_not(plan),
        "minimal_proven": solution.clash_proven,
    }


def _way(plan: LinePlan, one: Way) -> dict[str, Any]:
    return {
        "change": change_text(plan.problem, one),
        "effect": effect_text(one),
        "kind": one.kind,
        "infusion_id": one.infusion_id,
    }


def _pair(one: KeepApart) -> dict[str, Any]:
    return {"pair": list(one.pair), "scope": one.scope, "why": one.why}


def _note(one: Note) -> dict[str, Any]:
    return {"field": one.field, "written": one.written, "text": one.text}
