"""Two that clash never follow each other in a lumen without a flush."""

from app.lines.flush import flush_of
from app.lines.steps import Step
from app.review.lines.bedside.doing.between import flushed_between
from app.review.lines.bedside.planned import plan_bedside
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import CaseOf

APART = frozenset({frozenset(("calcium", "magnesium"))})
FLUSH = Step(30, "p", "flush", "Flush", flush=flush_of("peripheral"))


def step(at_min: int, what: str, name: str) -> Step:
    return Step(at_min, "p", what, f"{what} {name}", name)  # type: ignore[arg-type]


def whats(*steps: Step) -> list[str]:
    found = flushed_between(steps, APART, lambda _, fluid: flush_of("peripheral", fluid))
    return [one.what for one in found]


def test_a_flush_is_added_between_two_that_clash() -> None:
    assert whats(step(30, "end", "calcium"), step(35, "start", "magnesium")) == [
        "end", "flush", "start",
    ]  # fmt: skip


def test_none_is_added_where_there_is_one_or_where_they_may_meet() -> None:
    end, start = step(30, "end", "calcium"), step(35, "start", "magnesium")
    assert whats(end, FLUSH, start) == ["end", "flush", "start"]
    assert whats(end, step(35, "start", "saline")) == ["end", "start"]


def test_what_ended_before_what_may_meet_both_still_counts() -> None:
    steps = (step(30, "end", "calcium"), step(35, "start", "saline"), step(40, "end", "saline"))
    assert whats(*steps, step(45, "start", "magnesium")) == [
        "end", "start", "end", "flush", "start",
    ]  # fmt: skip


def test_a_slow_bag_beside_them_does_not_stand_for_a_flush(case_of: CaseOf, means: Means) -> None:
    bag = {"id": "o1", "fluid": "5% dextrose", "volume_ml": 250, "rate_ml_h": 40,
           "purpose": "replacement", "duration_h": 6, "lumen": "left hand",
           "order_text": "250 mL over 6 h"}  # fmt: skip
    doses = [{"name": name, "kind": "drug"} for name in (
        "calcium gluconate 1 g over 10 min", "magnesium sulfate 2 g over 20 min",
    )]  # fmt: skip
    made = plan_bedside(case_of(bag, co=doses), means)
    names = ("co_infusions[0]", "co_infusions[1]")
    ends = {s.infusion_id: s.at_min for s in made.found.steps if s.what == "end"}
    first = min(ends[name] for name in names)
    assert any(s.flush and s.at_min == first for s in made.found.steps)
