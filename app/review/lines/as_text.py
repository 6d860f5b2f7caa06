"""A line plan as plain lines, for a terminal or a print: the steps by the clock come first."""

import json
from collections.abc import Iterator
from typing import Final

from app.lines.model import Placement
from app.review.lines.planned import LinePlan
from app.review.lines.reply import reply_of
from app.review.lines.sentences import burden_text, change_text, effect_text, why_not
from app.review.predict.as_text import note_line

USUAL_CAUTION: Final = (
    "No data on a pair is not permission. Ringside supports the judgement of licensed staff and "
    "never replaces it. Local policy and the product label win."
)
MINUTES_PER_HOUR: Final = 60


def lines_of(plan: LinePlan) -> Iterator[str]:
    """Every line in reading order; the usual caution ends it.

    Signs that steer a terminal, as a name may hold them, are blanks.
    """
    yield from map(_printable, _lines_of(plan))


def _printable(line: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in line)


def _lines_of(plan: LinePlan) -> Iterator[str]:
    yield headline(plan)
    found = plan.solution.plan
    if found is not None:
        yield ""
        yield from (_step_line(step.at_min, step.lumen_id, step.do) for step in plan.steps)
        yield ""
        yield from (_placement_line(plan, one) for one in found.placements)
    if plan.ways:
        yield ""
        for way in plan.ways:
            yield f"Way out: {change_text(plan.problem, way)}. {effect_text(way)}."
    yield ""
    yield from map(note_line, plan.notes)
    yield USUAL_CAUTION


def headline(plan: LinePlan) -> str:
    """What came of it, first of all."""
    solution = plan.solution
    if solution.plan is None:
        return why_not(plan)
    best = "proven best" if solution.proven_optimal else "the best found, not proven best"
    burden = f"{burden_text(solution.plan)}; {best}."
    if solution.feasible:
        return f"The lumens given suffice: {burden}"
    return f"{why_not(plan)} The plan below needs {_more(solution.plan.extra_cannulas)}: {burden}"


def _more(number: int) -> str:
    return "1 new peripheral cannula" if number == 1 else f"{number} new peripheral cannulas"


def as_json(plan: LinePlan) -> str:
    """The reply of POST /api/line-plan as indented text."""
    return json.dumps(reply_of(plan), ensure_ascii=False, indent=2)


def clock(at_min: int) -> str:
    """Hours and minutes from the beginning: "2:05"."""
    hours, minutes = divmod(at_min, MINUTES_PER_HOUR)
    return f"{hours}:{minutes:02d}"


def _step_line(at_min: int, lumen_id: str, do: str) -> str:
    return f"{clock(at_min)}  {lumen_id}  {do}."


def _placement_line(plan: LinePlan, placed: Placement) -> str:
    name = plan.problem.by_id()[placed.infusion_id].name
    runs = [f"{clock(run.start_min)} to {clock(run.end_min)}" for run in placed.runs]
    return f"{placed.lumen_id}: {name}, {', '.join(runs) or 'not at all'}"
