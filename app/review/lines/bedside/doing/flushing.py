"""Flushes as this patient needs them: by size, and never where a surge would harm. Pure."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.lines.flush import REST_MIN, SALINE, SETTINGS, Flush, FlushFluid, FlushSetting, flush_of
from app.lines.meeting import clashing
from app.lines.model import Infusion, Placement, Plan, Problem, Site
from app.lines.steps import Step
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot

# Of a small line and a small patient (common practice, no source).
CHILD: Final[Mapping[Site, FlushSetting]] = {
    "peripheral": FlushSetting(dead_space_ml=0.5, least_ml=3),
    "central": FlushSetting(dead_space_ml=1, least_ml=5),
}
NEWBORN: Final[Mapping[Site, FlushSetting]] = {
    "peripheral": FlushSetting(dead_space_ml=0.5, least_ml=1),
    "central": FlushSetting(dead_space_ml=0.5, least_ml=1),
}
AGE_NOT_KNOWN: Final = "The age is not known: flushes are those of an adult. In a child ask first."
# The first part of a flush pushes in what the lumen still holds.
SLOWLY: Final = "Slowly is no faster than what ran before."
Settings = Mapping[Site, FlushSetting]


def settings_of(patient: Snapshot) -> Settings:
    """How lumens of this patient are flushed; as an adult's where the age is not known."""
    try:
        if patient.is_neonate():
            return NEWBORN
        return SETTINGS if patient.is_adult() else CHILD
    except NotKnown:
        return SETTINGS


def flush_words(flush: Flush) -> str:
    """A flush, short enough to be read aloud at each change; SLOWLY says what slowly is."""
    return (
        f"Flush with {flush.volume_ml:g} mL of {flush.fluid.name}: the first "
        f"{flush.dead_space_ml:g} mL slowly, the rest over about {REST_MIN} min"
    )


@dataclass(frozen=True, slots=True)
class Flushing:
    """told: what runs where now. surges: whether a surge of an infusion, by id, harms.

    words: a lumen by its id, as it is said.
    """

    told: Problem
    settings: Settings
    surges: Callable[[str], bool]
    words: Callable[[str], str]

    def of(self, plan: Plan, steps: Iterable[Step]) -> tuple[Step, ...]:
        """The steps with flushes of this patient's size, and where something leaves a lumen."""
        return tuple(self._left(plan, [self._sized(step) for step in steps]))

    def held_back(self, plan: Plan, steps: Iterable[Step]) -> tuple[Step, ...]:
        """The steps without a flush through a lumen on which what harms by a surge runs on."""
        return tuple(self._held_back(step, plan) for step in steps)

    def flush(self, lumen_id: str, fluid: FlushFluid) -> Flush:
        """A flush of one lumen, of this patient's size."""
        return flush_of(self._site(lumen_id), fluid, settings=self.settings)

    def _site(self, lumen_id: str) -> Site:
        return next((one.site for one in self.told.lumens if one.id == lumen_id), "peripheral")

    def _sized(self, step: Step) -> Step:
        if step.flush is None:
            return step
        flush = self.flush(step.lumen_id, step.flush.fluid)
        return replace(step, flush=flush, do=flush_words(flush))

    def _held_back(self, step: Step, plan: Plan) -> Step:
        if step.flush is None:
            return step
        through = next((p.infusion_id for p in _on(plan, step.lumen_id) if self._runs_on(p, step)),
                       None)  # fmt: skip
        if through is None:
            return step
        name = self.told.by_id()[through].name
        do = f"No flush here: it would push in {name}, which runs on. Ask before the next one"
        return replace(step, flush=None, do=do)

    def _runs_on(self, placed: Placement, step: Step) -> bool:
        """Whether it runs through a lumen at a flush: before it and after it."""
        now = self.told.by_id()[placed.infusion_id].stays_on == step.lumen_id
        since = -1 if now else 0
        through = any((run.start_min or since) < step.at_min < run.end_min for run in placed.runs)
        return through and self.surges(placed.infusion_id)

    def _left(self, plan: Plan, steps: list[Step]) -> list[Step]:
        """The steps with what is done where something ran that now runs elsewhere."""
        where = {placed.infusion_id: placed.lumen_id for placed in plan.placements}
        for lumen in self.told.lumens:
            gone = [one for one in self.told.infusions
                    if one.stays_on == lumen.id and where[one.id] != lumen.id]  # fmt: skip
            for one in gone:
                steps = self._cleared(one, where[one.id], plan, steps)
        return steps

    def _cleared(self, gone: Infusion, to: str, plan: Plan, steps: list[Step]) -> list[Step]:
        """One lumen cleared of what ran there, before the first that must not meet it."""
        here, harms = gone.stays_on or "", self.surges(gone.id)
        before = self._first_to_meet(gone, _on(plan, here), harms=harms)
        if before is None and not harms:
            return steps
        at = 0 if before is None else max(0, before - self.told.flush_min)
        flush = next((s for s in steps if s.flush and s.lumen_id == here and at <= s.at_min
                      and (before is None or s.at_min <= before)), None)  # fmt: skip
        do = f"Stop {gone.name} here: it goes on by {self.words(to)}"
        steps = [
            s for s in steps if (s.what, s.lumen_id, s.infusion_id) != ("pause", here, gone.id)
        ]
        steps.append(Step(0, here, "pause", do, gone.id))
        if flush is None:
            made = self.flush(here, SALINE)
            flush = Step(at, here, "flush", flush_words(made), flush=made)
            steps = [*steps, flush]
        if harms:
            drawn = replace(flush, do=_drawn(flush, gone))
            steps = [drawn if step is flush else step for step in steps]
        return steps

    def _first_to_meet(
        self, gone: Infusion, here: Iterable[Placement], *, harms: bool
    ) -> int | None:
        """When the first thing begins there that clashes with it; any, where a surge harms."""
        apart, by_id = clashing(self.told), self.told.by_id()
        starts = [
            placed.runs[0].start_min
            for placed in here
            if placed.runs
            and not (by_id[placed.infusion_id].stays_on == gone.stays_on
                     and placed.runs[0].start_min == 0)
            and (harms or frozenset((gone.id, placed.infusion_id)) in apart)
        ]  # fmt: skip
        return min(starts, default=None)


def _on(plan: Plan, lumen_id: str) -> Iterator[Placement]:
    yield from (placed for placed in plan.placements if placed.lumen_id == lumen_id)


def _drawn(flush: Step, gone: Infusion) -> str:
    """What still stands in the lumen is drawn back, not pushed in."""
    if flush.flush is None:
        return flush.do
    first = f"Draw back {flush.flush.dead_space_ml:g} mL first: it still holds {gone.name}"
    return f"{first}. Then flush with {flush.flush.volume_ml:g} mL of {flush.flush.fluid.name}"
