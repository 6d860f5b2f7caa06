"""What is settled once all of an order is known: bare figures, bags, contradictions."""

from dataclasses import dataclass, replace
from typing import Final

from app.intake.pace.heard import Body
from app.intake.rates import Flow

# A bag that is not quite emptied is no contradiction (common practice, no source).
CONTRADICT_ABOVE: Final = 0.35
OF_BAG_ABOVE: Final = 0.15
SAME_WITHIN: Final = 0.05
PLAN_FROM_H: Final = 12.0
# Faster than this nobody plans half a day ahead (common practice, no source).
PLAN_TO_ML_H: Final = 200.0
CHILD_TO_KG: Final = 35.0
NEWBORN_TO_KG: Final = 5.0
MINUTES_PER_HOUR: Final = 60.0
# Hours in which a bag is usually given, and minutes in which a small one is (common practice).
USUAL_HOURS: Final = frozenset((1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 18, 24))
USUAL_MINUTES: Final = frozenset((5, 10, 15, 20, 30, 45, 60, 90, 120))
# Hours that are likely as minutes too.
EITHER: Final = frozenset((15, 20, 30, 45))
# What a bare number in a field for rates can only mean as mL/h: in an adult, and for each kg of a
# child (common practice, no source).
BARE_ML_H: Final = (20.0, 300.0)
BARE_ML_KG_H: Final = (0.5, 12.0)
# A bare number in a child may be mL/kg/day too where it is one that wards give so.
BARE_ML_KG_DAY: Final = (30.0, 200.0)
# Rates that keep a vein open go by local policy; this one is counted (common practice, no source).
OPEN_ML_H: Final = 20.0
OPEN_ML_KG_H: Final = 0.5
OPEN_AT_MOST_ML_H: Final = 50.0


@dataclass(slots=True)
class _Doubts:
    asks: list[str]
    notes: list[str]


def settled(flow: Flow, body: Body) -> tuple[Flow, tuple[str, ...], tuple[str, ...]]:
    """The flow with every figure that follows, what to ask loudly, and what to ask softly."""
    doubts = _Doubts([], [])
    if flow.steps:
        return flow, (), ()
    flow = _with_bare(complete(flow), body, doubts)
    flow = _with_bare_over(complete(flow), doubts)
    flow = _kept_open(_without_contradiction(complete(flow), body, doubts), body, doubts)
    if flow.rate_ml_h is None and not (flow.is_bolus and flow.volume_ml) and not flow.by_losses:
        doubts.asks += flow.wants
    alone = flow.rate_ml_h is None and flow.duration_h is None and flow.volume_ml is not None
    if flow.as_needed and alone:
        flow = replace(flow, is_bolus=True)
    return with_bags(flow), tuple(dict.fromkeys(doubts.asks)), tuple(dict.fromkeys(doubts.notes))


def complete(flow: Flow) -> Flow:
    """The third of rate, volume and duration from the other two."""
    rate, volume, duration = flow.rate_ml_h, flow.volume_ml, flow.duration_h
    if rate is None and volume is not None and duration is not None:
        return replace(flow, rate_ml_h=volume / duration)
    if volume is None and rate is not None and duration is not None:
        return replace(flow, volume_ml=rate * duration)
    if duration is None and rate is not None and volume is not None:
        return replace(flow, duration_h=volume / rate)
    return flow


def _with_bare(flow: Flow, body: Body, doubts: _Doubts) -> Flow:
    """A number alone is mL/h where nothing else fits this patient; else it is asked about."""
    bare = flow.bare
    if bare is None:
        return flow
    known = (flow.rate_ml_h, flow.duration_h)
    if flow.rate_ml_h is not None:
        if not any(one is not None and abs(one - bare) <= SAME_WITHIN * bare for one in known):
            doubts.notes.append(f"{bare:g} is written beside {flow.rate_ml_h:.3g} mL/h.")
        return flow
    if not (flow.keeps_open and bare <= OPEN_AT_MOST_ML_H) and not _is_likely_rate(bare, body):
        doubts.asks.append(f"{bare:g} of what: mL/h, or hours for the bag?")
        return flow
    if not flow.is_at:
        doubts.notes.append(f"{bare:g} is read as {bare:g} mL/h, its unit being left out.")
    return complete(replace(flow, rate_ml_h=bare))


def _is_likely_rate(bare: float, body: Body) -> bool:
    weight = body.weight_kg
    if weight is None or weight > CHILD_TO_KG:
        low, high = BARE_ML_H
        return low <= bare <= high and bare not in USUAL_HOURS
    low, high = (weight * each for each in BARE_ML_KG_H)
    by_day = BARE_ML_KG_DAY[0] <= bare <= BARE_ML_KG_DAY[1]
    as_hours = bare in USUAL_HOURS and weight >= NEWBORN_TO_KG
    return low <= bare <= high and not by_day and not as_hours


def _with_bare_over(flow: Flow, doubts: _Doubts) -> Flow:
    """ "Over 8" is hours, "over 90" minutes, "over 30" either."""
    over = flow.bare_over
    if over is None or flow.rate_ml_h is not None or flow.duration_h is not None:
        return flow
    hours, minutes = over in USUAL_HOURS, over in USUAL_MINUTES
    if over in EITHER and not flow.is_bolus:
        doubts.asks.append(f"Over {over:g}: hours or minutes?")
        return flow
    if minutes and (flow.is_bolus or not hours):
        return complete(replace(flow, duration_h=over / MINUTES_PER_HOUR, stated_duration=True))
    if not hours:
        doubts.asks.append(f"Over {over:g}: hours or minutes?")
        return flow
    return complete(replace(flow, duration_h=over, stated_duration=True, of_bag=True))


def _without_contradiction(flow: Flow, body: Body, doubts: _Doubts) -> Flow:
    """Ask when rate, volume and duration contradict each other; the rate is used."""
    rate, volume, duration = flow.rate_ml_h, flow.volume_ml, flow.duration_h
    if rate is None or volume is None or duration is None:
        return flow
    # A long plan needs several bags, or in a child a part of one: the volume is then the bag's.
    light = body.weight_kg is not None and body.weight_kg <= CHILD_TO_KG
    several = light or volume < rate * duration <= PLAN_TO_ML_H * duration
    plan = duration >= PLAN_FROM_H and several and not flow.of_bag
    above = OF_BAG_ABOVE if flow.of_bag else CONTRADICT_ABOVE
    apart = abs(rate * duration - volume) > above * max(rate * duration, volume)
    if plan or flow.times.ends or not apart:
        return flow
    gives = f"{rate:.3g} mL/h for {duration:g} h is {rate * duration:.4g} mL"
    doubts.asks.append(
        f"{gives}, but {volume:g} mL is ordered ({volume / duration:.3g} mL/h). Which?"
    )
    return replace(flow, duration_h=None)


def _kept_open(flow: Flow, body: Body, doubts: _Doubts) -> Flow:
    if not flow.keeps_open or flow.rate_ml_h is not None:
        return flow
    by_weight = OPEN_ML_H if body.weight_kg is None else OPEN_ML_KG_H * body.weight_kg
    rate = min(OPEN_ML_H, by_weight)
    doubts.notes.append(f"What keeps a vein open goes by local policy; {rate:.3g} mL/h is counted.")
    return complete(replace(flow, rate_ml_h=rate))


def with_bags(flow: Flow) -> Flow:
    """The flow completed: several bags last several times as long; the volume stays that of one."""
    flow = complete(flow)
    if flow.bags < 2 or flow.duration_h is None or flow.volume_ml is None:  # noqa: PLR2004 - one bag
        return flow
    return replace(flow, duration_h=flow.duration_h * flow.bags, stated_duration=True)
