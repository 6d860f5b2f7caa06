"""Everything one patient's lines page may use."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Final

from app.cautions.phrases import listed, opening
from app.lines.model import Plan
from app.lines.steps import Step, flush_ml
from app.patient.access import Lumen
from app.patient.lumen_told import LumenTold, failed_in
from app.review.lines.bedside.planned import BedsidePlan, lumen_words, plan_bedside
from app.review.lines.bedside.problem import Means
from app.review.lines.bedside.settings import taken
from app.review.lines.sentences import why_not
from app.review.workflow import Bedside as Bed
from app.web import show
from app.web.lines.apart import GAP, ApartView, apart_of
from app.web.lines.picture import Pictures, lumens_in, pictures_of
from app.web.lines.ways import WayView, ways_of
from app.web.lines.words import at, lumen_title, runs_words, step_words, still_words

PROVEN: Final = "No better plan exists: this is proven."
NOT_PROVEN: Final = "The best found in the time allowed: a better one may exist."
NOTHING: Final = "Nothing runs or is due that can be planned."
ML_PER_L: Final = 1000
SALINE_MMOL_L: Final = 154


@dataclass(frozen=True, slots=True)
class LumenView:
    """One lumen: its name and site, when it was last looked at, and which buttons it has."""

    id: str
    name: str
    site: str
    told: str
    stale: bool
    failed: bool


@dataclass(frozen=True, slots=True)
class StepView:
    """One thing to do. kind: how it is marked."""

    words: str
    kind: str


@dataclass(frozen=True, slots=True)
class HourView:
    """What is to be done at one time, lumen by lumen."""

    at: str
    lumens: tuple[tuple[str, tuple[StepView, ...]], ...]


@dataclass(frozen=True, slots=True)
class RunView:
    """One infusion in the table: where, when, and what holds for it."""

    lumen: str
    name: str
    runs: str
    note: str


@dataclass(frozen=True, slots=True)
class LinesPage:
    """The page. proof: whether it is proven; why: what clashes, in sentences; changes: what moved
    since a lumen failed; apart: what is kept apart, and why; untold: of what nobody has told us;
    taken: what was taken for granted.
    """

    patient_id: str
    bed: str
    who: str
    made_at: str
    until: str
    headline: str
    burden: str
    proof: str
    why: str
    ways: tuple[WayView, ...]
    changes: tuple[str, ...]
    pictures: Pictures | None
    lumens: tuple[LumenView, ...]
    hours: tuple[HourView, ...]
    flushes: str
    rows: tuple[RunView, ...]
    apart: tuple[ApartView, ...]
    untold: tuple[ApartView, ...]
    not_planned: tuple[tuple[str, str], ...]
    later: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    taken: tuple[str, ...]


def lines_page(bed: Bed, means: Means, stands: Mapping[str, LumenTold]) -> LinesPage:
    """The page of one patient, with what people told of the lumens."""
    case, now = bed.review.case, bed.review.case.now
    made = plan_bedside(case, means, failed_in(stands))
    plan, problem = made.found.solution.plan, made.bedside.problem
    pairs = apart_of(made.bedside)
    return LinesPage(
        patient_id=bed.patient_id,
        bed=bed.bed,
        who=f"{bed.initials}, {show.person_age(case.patient.age_years)}",
        made_at=at(now, 0),
        until=at(now, problem.horizon_min),
        headline=headline(made),
        burden=_burden(made),
        proof=_proof(made),
        why="" if made.found.solution.feasible else why_not(made.found),
        ways=ways_of(made, bed.patient_id, now),
        changes=made.changes,
        pictures=pictures_of(made, now),
        lumens=tuple(_lumen(one, stands.get(one.id), now) for one in case.patient.access),
        hours=tuple(_hours(made, now)),
        flushes=_flushes(made),
        rows=() if plan is None else tuple(_rows(made, plan, now)),
        apart=tuple(pair for pair in pairs if pair.sign != GAP),
        untold=tuple(pair for pair in pairs if pair.sign == GAP),
        not_planned=made.bedside.not_planned,
        later=made.bedside.later,
        notes=made.bedside.notes,
        taken=taken(),
    )


def headline(made: BedsidePlan) -> str:
    """What came of it, in one sentence."""
    solution, lumens = made.found.solution, len(made.bedside.problem.lumens)
    if not made.bedside.items:
        return NOTHING
    if solution.barred is not None:
        return "Two of these must not both be given to this patient. No line plan can be right."
    if made.found.withheld:
        return "No plan is shown: the one found did not pass its check."
    if solution.feasible:
        return "The one lumen suffices." if lumens == 1 else f"The {lumens} lumens suffice."
    short = _short_of(lumens)
    if solution.plan is None:
        return f"{short} No number of new cannulas helps."
    return f"{short} The plan below needs {_cannulas(solution.plan.extra_cannulas)}."


def _burden(made: BedsidePlan) -> str:
    plan = made.found.solution.plan
    if plan is None or not made.bedside.items:
        return ""
    return f"{opening(still_words(made.bedside.told, plan))}."


def _short_of(lumens: int) -> str:
    if not lumens:
        return "There is no lumen in use."
    return (
        "The one lumen does not suffice." if lumens == 1 else f"The {lumens} lumens do not suffice."
    )


def _cannulas(number: int) -> str:
    return "1 new cannula" if number == 1 else f"{number} new cannulas"


def _proof(made: BedsidePlan) -> str:
    if made.found.solution.plan is None or not made.bedside.items:
        return ""
    return PROVEN if made.found.solution.proven_optimal else NOT_PROVEN


def _lumen(one: Lumen, told: LumenTold | None, now: datetime) -> LumenView:
    site = one.site or "site not known"
    kept = f", kept for {one.role}" if one.role else ""
    words, stale, failed = "not confirmed by anyone", True, False
    if told is not None:
        failed = told.state == "failed"
        by = f" by {told.by}" if told.by else ""
        words = f"{'failed' if failed else 'works'}, told {show.clock(told.at, now)}{by}"
        stale = not failed and told.is_stale(now)
        words += ", more than 12 h ago" if stale else ""
    return LumenView(one.id, opening(one.id), f"{site}{kept}", words, stale, failed)


def _hours(made: BedsidePlan, now: datetime) -> Iterator[HourView]:
    for minute, steps in groupby(made.found.steps, key=lambda step: step.at_min):
        lumens = groupby(steps, key=lambda step: step.lumen_id)
        yield HourView(
            at(now, minute),
            tuple(
                (lumen_title(lumen), tuple(_step(step, made, now) for step in here))
                for lumen, here in lumens
            ),
        )


def _step(step: Step, made: BedsidePlan, now: datetime) -> StepView:
    infusion = made.bedside.told.by_id().get(step.infusion_id or "")
    words = _spoken(step_words(step, infusion, now), step.what)
    return StepView(words, step.what.replace(" ", "-"))


def _spoken(words: str, what: str) -> str:
    """Lumens by their words where a step names another."""
    if what != "move":
        return words
    start, found, rest = words.partition(" here from ")
    return f"{start} here from {lumen_words(rest)}" if found else words


def _flushes(made: BedsidePlan) -> str:
    """All flushes together, and the sodium they bring."""
    fluids = {step.flush.fluid.name for step in made.found.steps if step.flush is not None}
    count = sum(step.flush is not None for step in made.found.steps)
    if not count:
        return "No flush is needed."
    ml = flush_ml(made.found.steps)
    said = f"{show.capital(show.count(count, 'flush', 'flushes'))}, {show.amount(ml, 'mL')} in all"
    sodium = f", {show.amount(ml * SALINE_MMOL_L / ML_PER_L, 'mmol')} of sodium"
    return f"{said} of {listed(tuple(sorted(fluids)))}{sodium if len(fluids) == 1 else ''}."


def _rows(made: BedsidePlan, plan: Plan, now: datetime) -> Iterator[RunView]:
    horizon = made.bedside.problem.horizon_min
    for lumen_id in lumens_in(made, plan):
        here = [placed for placed in plan.placements if placed.lumen_id == lumen_id]
        for placed in here:
            item = made.bedside.item(placed.infusion_id)
            runs = runs_words(placed.runs, now, horizon)
            note = opening(item.never)
            yield RunView(lumen_title(lumen_id), opening(item.name), runs, note)
        if not here:
            yield RunView(lumen_title(lumen_id), "Nothing", "free", "")
