"""Results of one analyte that cannot both be right, because no body changes so fast."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Final

from app.patient.observation import Observation

# The ionised share of total calcium is about half, and never over 70% (textbook, from memory).
CALCIUMS: Final = ("calcium_ionised", "calcium_total")
IONISED_AT_MOST: Final = 0.7
IONISED_HIGH_MMOL_L: Final = 1.4
ONE_SAMPLE: Final = timedelta(hours=1)
OLDEST: Final = datetime.min.replace(tzinfo=UTC)
# Two figures of one analyte at one moment that differ by more cannot both be right.
SAME_WITHIN: Final = 0.05
SAME_WITHIN_PH: Final = 0.005
MINUTES_PER_HOUR: Final = 60


@dataclass(frozen=True, slots=True)
class Pace:
    """How far two figures may lie apart: what two methods differ by, and what an hour changes.

    within_h: figures further apart in time are not compared. may_rise: a rise is believed (sugar
    after a dose of glucose).
    """

    methods: float
    per_hour: float
    within_h: float
    may_rise: float = 0.0


# Wide on purpose: what no treatment does in the time. Common practice, no source.
PACES: Final = {
    "potassium": Pace(0.8, 1.2, 1.0),
    "sodium": Pace(6.0, 4.0, 2.0),
    "glucose": Pace(3.0, 12.0, 1.0, may_rise=15.0),
    "haemoglobin": Pace(25.0, 40.0, 1.0),
    "creatinine": Pace(60.0, 60.0, 6.0),
    "calcium_ionised": Pace(0.25, 0.6, 1.0),
}


def in_order(group: Sequence[Observation]) -> tuple[Observation, ...]:
    """Newest first, without repeats; figures that contradict each other are doubted."""
    kept: list[Observation] = []
    for one in sorted(group, key=_time, reverse=True):
        twin = next((k for k in kept if k.taken_at == one.taken_at and k.taken_at), None)
        if twin is None or twin.value is None or one.value is None:
            kept.append(one)
        elif _differ(twin, one):
            doubt = f"{twin.as_written} and {one.as_written} at the same time: which is right?"
            kept[kept.index(twin)] = replace(twin, value=None, doubt=doubt)
    return _newest_doubted(tuple(sorted(kept, key=_time, reverse=True)))


def _time(one: Observation) -> datetime:
    return one.taken_at or OLDEST


def _differ(first: Observation, second: Observation) -> bool:
    if first.value is None or second.value is None:
        return False
    within = SAME_WITHIN_PH if first.name == "ph" else SAME_WITHIN
    return abs(first.value - second.value) > within * max(abs(first.value), abs(second.value))


def _newest_doubted(group: tuple[Observation, ...]) -> tuple[Observation, ...]:
    """The newest not used where the one before it leaves no time for the change, unless a third
    bears it out.
    """
    usable = [one for one in group if one.value is not None and one.taken_at is not None]
    if len(usable) < 2 or usable[0] is not group[0]:  # noqa: PLR2004 - a pair is compared
        return group
    newest, before, *rest = usable
    if not _too_fast(newest, before) or any(not _too_fast(newest, one) for one in rest[:1]):
        return group
    doubt = (
        f"{before.as_written} and {newest.as_written} only {_minutes(newest, before)} min apart: "
        "which is right?"
    )
    return (replace(newest, value=None, doubt=doubt), *group[1:])


def _too_fast(newest: Observation, before: Observation) -> bool:
    pace, hours = PACES.get(newest.name), _hours(newest, before)
    if pace is None or newest.value is None or before.value is None or hours > pace.within_h:
        return False
    change = newest.value - before.value
    most = pace.methods + pace.per_hour * hours + (pace.may_rise if change > 0 else 0.0)
    return abs(change) > most


def _hours(newest: Observation, before: Observation) -> float:
    if newest.taken_at is None or before.taken_at is None:
        return float("inf")
    return (newest.taken_at - before.taken_at) / timedelta(hours=1)


def _minutes(newest: Observation, before: Observation) -> int:
    return round(_hours(newest, before) * MINUTES_PER_HOUR)


def one_calcium_in_doubt(
    results: dict[str, tuple[Observation, ...]],
) -> dict[str, tuple[Observation, ...]]:
    """Doubt the calcium that cannot be right beside the other: about half of it is ionised.

    A high ionised one is then the total filed under the wrong name; else the total is too low.
    """
    ionised, total = (next(iter(results.get(name, ())), None) for name in CALCIUMS)
    if not ionised or not total or ionised.value is None or total.value is None:
        return results
    if ionised.value <= IONISED_AT_MOST * total.value or not _of_one_time(ionised, total):
        return results
    wrong, other = (ionised, total) if ionised.value > IONISED_HIGH_MMOL_L else (total, ionised)
    what = "total" if wrong is ionised else "ionised"
    doubt = f"{wrong.as_written} does not fit a {what} calcium of {other.as_written}: which is it?"
    doubted = replace(wrong, value=None, doubt=doubt)
    return {**results, wrong.name: (doubted, *results[wrong.name][1:])}


def _of_one_time(first: Observation, second: Observation) -> bool:
    if first.taken_at is None or second.taken_at is None:
        return True
    return abs(first.taken_at - second.taken_at) <= ONE_SAMPLE
