"""What to do, hour by hour and lumen by lumen, as it is read aloud."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Final

from app.lines.steps import Step
from app.patient.case import Case
from app.patient.order import Order
from app.review.lines.bedside.planned import BedsidePlan, lumen_words
from app.review.lines.bedside.problem import Item
from app.web.lines.clock.bags import ends_unasked, has_glucose, needs_glucose, next_bags
from app.web.lines.given import pace_words
from app.web.lines.words import at, lumen_title, step_words

# What begins or goes on at a pace that the order tells.
PACED: Final = ("start", "resume")
ASK: Final = "Ask beforehand what follows."
ELSEWHERE: Final = "If it runs already, move it here: where it runs now is not written."
HANDED_OVER: Final = "It must not stop: change it over as local policy says."


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
class _Told:
    at_min: int
    lumen_id: str
    view: StepView


def hours_of(made: BedsidePlan, case: Case) -> tuple[HourView, ...]:
    """Every step of a plan by the clock, with bags that run out."""
    told = [_Told(step.at_min, step.lumen_id, _step(step, made, case.now))
            for step in made.found.steps]  # fmt: skip
    every = sorted((*told, *_bags(made, case)), key=lambda each: each.at_min)
    return tuple(_hour(minute, tuple(here), case.now)
                 for minute, here in groupby(every, key=lambda each: each.at_min))  # fmt: skip


def _hour(minute: int, here: tuple[_Told, ...], now: datetime) -> HourView:
    by_lumen: dict[str, list[StepView]] = {}
    for each in here:
        by_lumen.setdefault(each.lumen_id, []).append(each.view)
    lumens = tuple((lumen_title(name), tuple(views)) for name, views in by_lumen.items())
    return HourView(at(now, minute), lumens)


def _bags(made: BedsidePlan, case: Case) -> Iterator[_Told]:
    for minute, placed, item in next_bags(made, case):
        words = f"{item.name}: this bag is empty about now. Hang the next if it is to go on."
        yield _Told(minute, placed.lumen_id, StepView(words[:1].upper() + words[1:], "bag"))


def _step(step: Step, made: BedsidePlan, now: datetime) -> StepView:
    kind = step.what.replace(" ", "-")
    if step.infusion_id is None:
        return StepView(step_words(step, None, now), kind)
    item = made.bedside.item(step.infusion_id)
    infusion = made.bedside.told.by_id()[item.id]
    pace = pace_words(item.of) if step.what in PACED else ""
    words = _spoken(step_words(step, infusion, now, pace), step.what)
    return StepView(" ".join(filter(None, (words, _more(step, item, made)))), kind)


def _more(step: Step, item: Item, made: BedsidePlan) -> str:
    """What else is said with a step."""
    if step.what == "start" and item.runs and item.of.lumen is None:
        return ELSEWHERE
    if step.what == "move" and item.must_run:
        return HANDED_OVER
    if step.what == "end" and isinstance(item.of, Order):
        unasked = {one.id for _, one in ends_unasked(made)}
        if item.id in unasked:
            return _after(item, insulin=needs_glucose(made))
    return ""


def _after(item: Item, *, insulin: bool) -> str:
    if insulin and has_glucose(item):
        return "Insulin must not run on without glucose."
    return "Insulin runs on: ask beforehand what follows." if insulin else ASK


def _spoken(words: str, what: str) -> str:
    """Lumens by their words where a step names another."""
    if what != "move":
        return words
    start, found, rest = words.partition(" here from ")
    return f"{start} here from {lumen_words(rest)}" if found else words
