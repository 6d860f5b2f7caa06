"""What to see to before the first step: in few sentences, the most pressing first."""

from collections.abc import Iterator
from datetime import datetime
from typing import Final

from app.cautions.phrases import listed, opening
from app.cautions.shared.lines import is_blood
from app.cautions.shared.substances import holds
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.review.lines.bedside.doing.flushing import AGE_NOT_KNOWN
from app.review.lines.bedside.pausing import role_of
from app.review.lines.bedside.planned import BedsidePlan, lumen_words
from app.review.lines.bedside.problem import Item
from app.web.lines.clock.bags import end_words, ends_unasked, has_glucose, needs_glucose
from app.web.lines.given import is_ambiguous
from app.web.lines.lumens import LumenView, unconfirmed
from app.web.lines.words import at

NO_PLAN: Final = (
    "Until this is settled start nothing new by these lumens, and stop nothing that must not stop."
)
MOST_NAMED: Final = 3
# Known to harm beside a vein (common practice, no source).
BURNS: Final = (
    "vasoactive", "calcium_gluconate", "calcium_chloride", "sodium_bicarbonate", "amiodarone",
    "phenytoin", "vancomycin", "aciclovir", "parenteral_nutrition",
)  # fmt: skip
POTASSIUM_MMOL_L: Final = 40.0
GLUCOSE_G_L: Final = 90.0


def heed_of(made: BedsidePlan, case: Case, lumens: tuple[LumenView, ...]) -> tuple[str, ...]:
    """The sentences, none where nothing presses."""
    if not made.bedside.items:
        return ()
    plan, now = made.found.solution.plan, case.now
    every = [
        *_lost(made), *_leaked(made), *_together(made), *_meant(made), *_insulin(made, now),
        unconfirmed(lumens), *made.leaning, *_last(made), *_age(made, case),
        "" if plan else NO_PLAN,
    ]  # fmt: skip
    return tuple(filter(None, every))


def _lost(made: BedsidePlan) -> Iterator[str]:
    """What must not stop and lost its lumen, vasoactive drugs first; insulin without glucose."""
    lost = [item for item in made.bedside.items
            if item.runs and item.must_run and item.of.lumen in made.bedside.failed]  # fmt: skip
    for item in sorted(lost, key=lambda one: role_of(one.of) != "vasoactive"):
        yield _put_on(item, made)
    glucose = [item for item in lost if has_glucose(item)]
    if glucose and needs_glucose(made):
        yield (
            f"Until {glucose[0].name} runs again insulin has no glucose beside it: ask at once "
            "whether it stops meanwhile, and measure glucose."
        )


def _put_on(item: Item, made: BedsidePlan) -> str:
    """Where something that lost its lumen is put."""
    plan, given = made.found.solution.plan, {one.id for one in made.bedside.problem.lumens}
    places = () if plan is None else plan.placements
    to = next((placed.lumen_id for placed in places if placed.infusion_id == item.id), "")
    must = f"{opening(item.name)} must not stop"
    if to in given:
        return f"{must}: put it on {lumen_words(to)} before all else."
    until = f" until {lumen_words(to)} is in" if to else ""
    return f"{must} and has no lumen{until}: call for help now, and see to this before all else."


def _together(made: BedsidePlan) -> Iterator[str]:
    """Two that run on one lumen as it is written, and must be kept apart."""
    runs = {item.source: item for item in made.bedside.items if item.runs and item.of.lumen}
    for pair in made.bedside.apart:
        one, other = runs.get(pair.a_id), runs.get(pair.b_id)
        if one is None or other is None or one.of.lumen != other.of.lumen:
            continue
        if one.of.lumen in made.bedside.failed:
            continue
        lumen = lumen_words(one.of.lumen or "")
        yield (
            f"{opening(one.name)} and {other.name} are both written on {lumen} now and are to be "
            f"kept apart: {pair.why.rstrip('.')}."
        )


def _leaked(made: BedsidePlan) -> Iterator[str]:
    """What harms beside the vein and ran by a lumen that failed."""
    for lumen in sorted(made.bedside.failed):
        burns = [item.name for item in made.bedside.items
                 if item.runs and item.of.lumen == lumen and _burns(item)]  # fmt: skip
        if burns:
            harm = "harms" if len(burns) == 1 else "harm"
            yield (
                f"{opening(lumen_words(lumen))} carried {listed(tuple(burns))}, which {harm} "
                "beside the vein: look for a leak before the line comes out, and act by local "
                "policy."
            )


def _burns(item: Item) -> bool:
    if item.central or holds(item.of, *BURNS):
        return True
    mix = item.of.mix if isinstance(item.of, Order) else None
    return mix is not None and (
        mix.potassium_mmol_l >= POTASSIUM_MMOL_L or mix.glucose_g_l >= GLUCOSE_G_L
    )


def _meant(made: BedsidePlan) -> Iterator[str]:
    for item in made.bedside.items:
        if not isinstance(item.of, Order) or not is_ambiguous(item.of):
            continue
        which = [fluid.name for fluid in item.of.candidates]
        if not which:
            yield f"{opening(item.name)}: which fluid this is, is not known. Ask before it goes on."
            continue
        more = f", or {len(which) - MOST_NAMED} more" if len(which) > MOST_NAMED else ""
        names = ", ".join(which[:MOST_NAMED])
        yield f"{opening(item.name)} may mean {names}{more}: ask which it is before it goes on."


def _insulin(made: BedsidePlan, now: datetime) -> Iterator[str]:
    if needs_glucose(made):
        for end_min, item in sorted(ends_unasked(made), key=lambda each: each[0]):
            yield end_words(item, insulin=True, hour=at(now, end_min))


def _last(made: BedsidePlan) -> Iterator[str]:
    """Doses of which the first is planned as due now, for nobody wrote when the last was."""
    if made.found.solution.plan is None:
        return
    names = dict.fromkeys(_plain(item) for item in made.bedside.items
                          if _is_dose(made, item) and item.due_min == 0)  # fmt: skip
    if names:
        were = "was" if len(names) == 1 else "were"
        yield (
            f"When {listed(tuple(names))} {were} last given is not written: the plan takes the "
            "first as due now. See the chart."
        )


def _is_dose(made: BedsidePlan, item: Item) -> bool:
    timed = not made.bedside.problem.by_id()[item.id].continuous
    return timed and isinstance(item.of, CoInfusion) and not is_blood(item.of)


def _plain(item: Item) -> str:
    return item.name.partition(", dose")[0]


def _age(made: BedsidePlan, case: Case) -> Iterator[str]:
    try:
        case.patient.is_adult()
    except NotKnown:
        if any(step.flush for step in made.found.steps):
            yield AGE_NOT_KNOWN
