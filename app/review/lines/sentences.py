"""A line plan in sentences: why the lumens do not suffice, and each way out with its effect."""

from collections.abc import Callable, Iterator
from typing import Final

from app.cautions.phrases import listed, opening
from app.lines.model import Infusion, Plan, Problem
from app.lines.ways import Kind, Way
from app.review.lines.planned import LinePlan

NOT_IN_TIME: Final = (
    "No plan was found in the time allowed; that there is none has not been proven. "
    "Shorten the list of infusions or their windows."
)
NOT_NARROWED: Final = "Which of them clash was not narrowed down in the time allowed."
PAIR: Final = 2
NO_CANNULA_HELPS: Final = "New peripheral cannulas do not change that."
THREE_MORE: Final = "even 3 new peripheral cannulas do not carry everything"


def why_not(plan: LinePlan) -> str:
    """Why the lumens given do not carry everything, in a few sentences."""
    solution = plan.solution
    if plan.withheld:
        return f"A plan was found and is not shown, for it did not pass: {plan.withheld[0]}."
    if solution.barred is not None:
        return _barred(plan)
    if not solution.clash:
        return NOT_IN_TIME
    said = [_clash(plan), *_reasons(plan)]
    if not solution.clash_proven:
        said.append(NOT_NARROWED)
    if solution.plan is None:
        said.append(_beyond(plan) if solution.proven_optimal else NOT_IN_TIME)
    return " ".join(said)


def _beyond(plan: LinePlan) -> str:
    """That no number of cannulas helps, and with what, where more than the clash tells it."""
    beyond = plan.solution.beyond
    if not beyond:
        return f"{opening(THREE_MORE)}."
    if set(beyond) <= set(plan.solution.clash):
        return NO_CANNULA_HELPS
    return f"{opening(THREE_MORE)}: {listed(_names(plan.problem, beyond))} cannot all run."


def _barred(plan: LinePlan) -> str:
    names = _names(plan.problem, plan.solution.barred or ())
    because = _why(plan.problem, plan.solution.barred or ())
    return (
        f"{opening(listed(names))} must not both be given to this patient, whatever the line or "
        f"the hour{because}. No line plan can be right."
    )


def _names(problem: Problem, ids: tuple[str, ...]) -> tuple[str, ...]:
    by_id = problem.by_id()
    return tuple(by_id[name].name for name in ids)


def _why(problem: Problem, pair: tuple[str, ...]) -> str:
    told = (rule.why for rule in problem.keep_apart if set(rule.pair) == set(pair) and rule.why)
    why = next(told, "")
    return f": {why.rstrip('.')}" if why else ""


def _clash(plan: LinePlan) -> str:
    problem, clash = plan.problem, plan.solution.clash
    names = opening(listed(_names(problem, clash)))
    if len(clash) == 1:
        return f"{names} has no place: {_alone(problem, problem.by_id()[clash[0]])}."
    count = len(problem.lumens)
    on = "the one lumen" if count == 1 else f"the {count} lumens"
    together, rest = "all", "any one of them the others can"
    if len(clash) == PAIR:
        together, rest = "both", "either of them the other can"
    least = f"; without {rest}" if plan.solution.clash_proven else ""
    return f"{names} cannot {together} run on {on} given{least}."


def _alone(problem: Problem, infusion: Infusion) -> str:
    if not problem.lumens:
        return "there is no lumen"
    if infusion.needs_central and all(lumen.site != "central" for lumen in problem.lumens):
        return "it needs a central lumen and there is none"
    if infusion.needs_central:
        return "it needs a central lumen and none is free for it"
    return "no lumen given may carry it"


def _reasons(plan: LinePlan) -> Iterator[str]:
    """Of each two in the clash why they are kept apart, where that is told."""
    clash, problem = plan.solution.clash, plan.problem
    for rule in problem.keep_apart:
        if rule.why and set(rule.pair) <= set(clash):
            one, other = _names(problem, rule.pair)
            yield f"{opening(one)} with {other}: {rule.why.rstrip('.')}."


def change_text(problem: Problem, way: Way) -> str:
    """What to change, as one reads it aloud."""
    infusion = problem.by_id().get(way.infusion_id or "")
    name = infusion.name if infusion is not None else ""
    return CHANGES[way.kind](way, name)


def _cannulas(number: int) -> str:
    return "one more peripheral cannula" if number == 1 else f"{number} more peripheral cannulas"


def _move(way: Way, name: str) -> str:
    side = "earlier than its window begins" if way.minutes < 0 else "later than its window ends"
    return f"Give {name} {abs(way.minutes)} min {side}: ask the prescriber"


def _replace(way: Way, name: str) -> str:
    other = way.replacement.name if way.replacement is not None else ""
    return f"Give {other} instead of {name}: prescriber and pharmacist decide"


def _central(way: Way) -> str:
    several = f" with {way.central_lumens} lumens" if way.central_lumens > 1 else ""
    return f"Ask for central access{several}"


CHANGES: Final[dict[Kind, Callable[[Way, str], str]]] = {
    "move": _move,
    "replace": _replace,
    "cannula": lambda way, _: f"Place {_cannulas(way.cannulas)}",
    "pause": lambda way, name: f"Let {name} stand still for {way.minutes} min: ask the prescriber",
    "central line": lambda way, _: _central(way),
    "leave out": lambda way, name: (
        f"Leave out {name}, or give it another way: prescriber and pharmacist decide"
    ),
}


def effect_text(way: Way) -> str:
    """What the plan is then like."""
    rest = "the rest" if way.kind == "leave out" else "everything"
    with_more = ""
    if way.cannulas and way.kind != "cannula":
        with_more = f", with {_cannulas(way.cannulas)}"
    return f"{opening(rest)} then runs{with_more}; {burden_text(way.plan)}"


def burden_text(plan: Plan) -> str:
    """How often and how long anything stands still: "2 interruptions, 90 min in all"."""
    if not plan.interruptions:
        return "nothing is interrupted"
    times = "1 interruption" if plan.interruptions == 1 else f"{plan.interruptions} interruptions"
    return f"{times}, {plan.minutes_paused} min in all"
