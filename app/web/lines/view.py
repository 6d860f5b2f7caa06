"""Everything one patient's lines page may use."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.cautions.phrases import listed, opening
from app.lines.model import Plan
from app.lines.steps import flush_ml
from app.patient.lumen_told import LumenTold, failed_in
from app.review.lines.bedside.doing.flushing import SLOWLY
from app.review.lines.bedside.doing.surge import surge_harms
from app.review.lines.bedside.lumens import with_told
from app.review.lines.bedside.planned import BedsidePlan, plan_bedside
from app.review.lines.bedside.problem import Item, Means
from app.review.lines.bedside.settings import taken
from app.review.lines.sentences import why_not
from app.review.workflow import Bedside as Bed
from app.web import show
from app.web.lines.apart import GAP, ApartView, apart_of
from app.web.lines.clock.heed import heed_of
from app.web.lines.clock.hours import HourView, hours_of
from app.web.lines.given import given_words
from app.web.lines.lumens import LumenView, lumen_views
from app.web.lines.picture import Pictures, lumens_in, pictures_of
from app.web.lines.ways import WayView, ways_of
from app.web.lines.words import at, long, lumen_title, runs_words, still_words

PROVEN: Final = "No better plan exists: this is proven."
NOT_PROVEN: Final = "The best found in the time allowed: a better one may exist."
NOTHING: Final = "Nothing runs or is due that can be planned."
ML_PER_L: Final = 1000
SALINE_MMOL_L: Final = 154


@dataclass(frozen=True, slots=True)
class RunView:
    """One infusion in the table: where, what exactly, when, and what holds for it.

    surges: nothing may be pushed through its lumen.
    """

    lumen: str
    name: str
    given: str
    runs: str
    note: str
    surges: bool = False


@dataclass(frozen=True, slots=True)
class LinesPage:
    """The page. day: its date; heed: what to see to first; proof: whether it is proven; why: what
    clashes, in sentences; barred: two must not both be given; changes: what moved since a lumen
    failed; apart: what is kept apart, and why; untold: of what nobody has told us; taken: what was
    taken for granted.
    """

    patient_id: str
    bed: str
    who: str
    day: str
    made_at: str
    until: str
    headline: str
    burden: str
    proof: str
    heed: tuple[str, ...]
    why: str
    barred: bool
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
    case, now = with_told(bed.review.case, stands), bed.review.case.now
    made = plan_bedside(case, means, failed_in(stands))
    pairs, lumens = apart_of(made.bedside), lumen_views(case.patient.access, stands, now)
    return LinesPage(
        patient_id=bed.patient_id,
        bed=bed.bed,
        who=f"{bed.initials}, {show.person_age(case.patient.age_years)}",
        day=f"{show.day(now)} {now.year}",
        made_at=at(now, 0),
        until=at(now, made.bedside.problem.horizon_min),
        headline=headline(made),
        burden=_burden(made),
        proof=_proof(made),
        heed=heed_of(made, case, lumens),
        why="" if made.found.solution.feasible else why_not(made.found),
        barred=made.found.solution.barred is not None,
        ways=ways_of(made, bed.patient_id, now),
        changes=made.changes,
        pictures=pictures_of(made, now),
        lumens=lumens,
        hours=hours_of(made, case),
        flushes=_flushes(made),
        rows=tuple(_rows(made, now)),
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
        names = (made.bedside.item(name).name for name in solution.barred)
        both = opening(listed(tuple(names)))
        return f"{both} must not both be given to this patient. No line plan can be right."
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
    still = still_words(made.bedside.told, plan)
    lost = dict.fromkeys(item.of.lumen for item in made.bedside.items
                         if item.runs and item.of.lumen in made.bedside.failed)  # fmt: skip
    if not lost:
        return f"{opening(still)}."
    where = listed(tuple(lumen or "" for lumen in lost))
    return f"What ran on {where} stands still until it is connected again; after that {still}."


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


def _flushes(made: BedsidePlan) -> str:
    """All flushes together, and the sodium they bring."""
    fluids = {step.flush.fluid.name for step in made.found.steps if step.flush is not None}
    count = sum(step.flush is not None for step in made.found.steps)
    if not count:
        return "No flush is needed."
    ml = flush_ml(made.found.steps)
    said = f"{show.capital(show.count(count, 'flush', 'flushes'))}, {show.amount(ml, 'mL')} in all"
    sodium = f", {show.amount(ml * SALINE_MMOL_L / ML_PER_L, 'mmol')} of sodium"
    of = f"{said} of {listed(tuple(sorted(fluids)))}{sodium if len(fluids) == 1 else ''}."
    return f"{of} {SLOWLY}"


def _rows(made: BedsidePlan, now: datetime) -> Iterator[RunView]:
    plan = made.found.solution.plan
    if plan is None:
        return
    horizon = made.bedside.problem.horizon_min
    for lumen_id in lumens_in(made, plan):
        here = [placed for placed in plan.placements if placed.lumen_id == lumen_id]
        for placed in here:
            item = made.bedside.item(placed.infusion_id)
            runs = runs_words(placed.runs, now, horizon)
            note = opening(item.never) or _since(made, plan, item)
            first = next(one for one in made.bedside.items if one.source == item.source)
            given = given_words(item.of) if item is first else ""
            surges = item.must_run and surge_harms(item.of)
            yield RunView(lumen_title(lumen_id), opening(item.name), given, runs, note, surges)
        if not here:
            yield RunView(lumen_title(lumen_id), "Nothing", "", "free", "")


def _since(made: BedsidePlan, plan: Plan, item: Item) -> str:
    """How long after the dose before it one starts: "6 h 25 min after the one before"."""
    mine = {one.id for one in made.bedside.items if one.source == item.source}
    starts = {p.infusion_id: p.runs[0].start_min for p in plan.placements
              if p.infusion_id in mine and p.runs}  # fmt: skip
    before = [at for at in starts.values() if at < starts.get(item.id, 0)]
    if len(mine) == 1 or not before:
        return ""
    return f"{long(starts[item.id] - max(before))} after the one before"
