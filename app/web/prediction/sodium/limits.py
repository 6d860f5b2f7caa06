"""The limits of a day: which count in this person, and where they stand at any hour."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from app.cautions.rule import Limits
from app.cautions.shared.fluid_facts import child, newborn
from app.cautions.shared.sodium_limits import (
    ACUTE_LOW,
    GLUCOSE_EMERGENCY,
    NO_FALL_LIMIT,
    fall_limit_name,
    rise_limit_names,
    rise_risks,
)
from app.web.pictures.curves import Result
from app.web.pictures.limit_lines import Bound
from app.web.prediction.person import Person
from app.web.show import number

RISE_RULE: Final = "na-rise-forecast"
FALL_RULE: Final = "na-fall-forecast"
HOURS_PER_DAY: Final = 24.0
TWO_DAYS_H: Final = 48.0
TWO_DAYS: Final = "rise_two_days_mmol_l"
# Sodium is reported to the whole mmol/L, and so the rules judge it: from here on it reads as more.
READS_AS_MORE: Final = 0.5


@dataclass(frozen=True, slots=True)
class DayLimits:
    """The limits of one direction in one person.

    sign: 1 for a rise, -1 for a fall. limits: in force, of the rule. names: those that count
    here, the first passed first; empty where none does, and why_none then says so. points: the
    results of the last two days and the starting value, oldest first. risks: what makes it high.
    """

    sign: int
    rule_id: str
    limits: Limits
    names: tuple[str, ...]
    points: tuple[Result, ...]
    risks: tuple[str, ...] = ()
    acute: bool = False
    why_none: str = ""

    @property
    def now_mmol_l(self) -> float:
        """The starting value."""
        return self.points[-1].value

    @property
    def counted_from(self) -> Result:
        """The day's lowest (of a rise) or highest, from which is counted now."""
        return self._furthest(0.0, HOURS_PER_DAY)

    @property
    def already_mmol_l(self) -> float:
        """How far sodium has moved already, in the direction of the limit; never under 0."""
        return self.sign * (self.now_mmol_l - self.counted_from.value)

    def is_past(self, name: str) -> bool:
        """True where sodium has moved further already than a limit allows."""
        return self.already_mmol_l - self.limits[name] >= READS_AS_MORE

    def most_at(self, hours: float, name: str) -> float:
        """Where a limit stands at an hour from now, mmol/L.

        Results older than a day drop out, but a limit that is passed stays where it is for two
        days from the result it counts from: nothing more is granted until that is made good. A
        rise has a limit of two days besides.
        """
        base = self.counted_from
        if not self.is_past(name) or hours > base.hours + TWO_DAYS_H:
            base = self._furthest(hours, HOURS_PER_DAY)
        most = base.value + self.sign * self.limits[name]
        in_two_days = self.limits.get(TWO_DAYS)
        if in_two_days is None:
            return most
        return min(most, self._furthest(hours, TWO_DAYS_H).value + in_two_days)

    def change_words(self, name: str) -> str:
        """A limit as it is said: "+8 in 24 h"."""
        change = self.limits[name]
        return f"{f'+{number(change)}' if self.sign > 0 else number(-change)} in 24 h"

    def bounds(self) -> tuple[Bound, ...]:
        """The lines of the picture: each limit from where it counts, in steps as its day ends."""
        return tuple(bound for name in self.names for bound in self._steps(name))

    def _furthest(self, hours: float, within_h: float) -> Result:
        """The lowest (of a rise) or highest of so many hours before an hour from now."""
        within = [p for p in self.points if p.hours >= hours - within_h]
        return min(within or self.points[-1:], key=lambda p: self.sign * p.value)

    def _steps(self, name: str) -> list[Bound]:
        """A limit from where it counts on; the step in force now says what it allows."""
        first, *later = self._levels(name)
        base, words = self.counted_from, self.change_words(name)
        value = number(first[1])
        title = f"{words}, counted from {number(base.value)} ({base.title}): {value}"
        said = f"{words}: most now {value}" if later or base.hours < 0 else words
        ends = [at for at, _ in later] + [HOURS_PER_DAY]
        steps = [Bound(first[1], base.hours, ends[0], said, title)]
        for (starts, most), end in zip(later, ends[1:], strict=True):
            then = f"{number(most)} from {number(starts)} h on"
            steps.append(Bound(most, starts, end, then, f"{words}: {then}"))
        return steps

    def _levels(self, name: str) -> list[tuple[float, float]]:
        """Hours from now, and the limit from each of them on."""
        ends = {p.hours + span for p in self.points for span in (HOURS_PER_DAY, TWO_DAYS_H)}
        edges = [0.0, *sorted(e for e in ends if 0 < e < HOURS_PER_DAY), HOURS_PER_DAY]
        levels: list[tuple[float, float]] = []
        for starts, stops in pairwise(edges):
            most = self.most_at((starts + stops) / 2, name)
            if not levels or levels[-1][1] != most:
                levels.append((starts, most))
        return levels


def aim_of(day: DayLimits) -> tuple[float, str] | None:
    """Where the first limit stands now, mmol/L, and its words; None where no limit counts."""
    if not day.names:
        return None
    return day.most_at(0.0, day.names[0]), day.change_words(day.names[0])


def day_limits(person: Person, sodium_mmol_l: float, limits: Mapping[str, Limits]) -> DayLimits:
    """The limits of a rise, or above the rule's high sodium those of a fall.

    sodium_mmol_l: the starting value. limits: those in force, by rule.
    """
    now = Result(0.0, sodium_mmol_l, "the starting value")
    measured = person.measured.get("sodium", ())
    points = (*(r for r in measured if -TWO_DAYS_H < r.hours <= 0), now)
    if sodium_mmol_l > limits[FALL_RULE]["sodium_high_mmol_l"]:
        return _of_a_fall(person, points, limits[FALL_RULE])
    return _of_a_rise(person, points, limits[RISE_RULE])


def _of_a_rise(person: Person, points: tuple[Result, ...], limits: Limits) -> DayLimits:
    lowest = min(point.value for point in points)
    found = DayLimits(1, RISE_RULE, limits, (), points)
    baseline = limits["sodium_baseline_mmol_l"]
    if lowest >= baseline:
        why = f"Limits of a day are for sodium that was under {number(baseline)} mmol/L."
        return replace(found, why_none=why)
    if not person.conditions.isdisjoint(GLUCOSE_EMERGENCY):
        return replace(found, why_none="No limit of a day: sodium moves with glucose here.")
    if person.snapshot is not None and newborn(person.snapshot):
        return replace(found, why_none="No limit of a day is kept here for newborns.")
    risks = rise_risks(person.conditions, person.results.get("potassium"), lowest, limits)
    acute = ACUTE_LOW in person.conditions
    names = rise_limit_names(at_risk=bool(risks), acute=acute)
    return replace(found, names=names, risks=risks, acute=acute)


def _of_a_fall(person: Person, points: tuple[Result, ...], limits: Limits) -> DayLimits:
    found = DayLimits(-1, FALL_RULE, limits, (), points)
    exempt = [key for key in NO_FALL_LIMIT if key in person.conditions]
    if exempt:
        why = f"No limit of a fall in a day: {exempt[0].replace('_', ' ')}."
        return replace(found, why_none=why, acute=exempt[0] == NO_FALL_LIMIT[0])
    young = person.snapshot is not None and child(person.snapshot)
    return replace(found, names=(fall_limit_name(child=young),))
