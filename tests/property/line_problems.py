"""Small line problems at random, and their best cost by trying everything.

Shares nothing with the solver or the check: minutes are bits of one number, lumens are tried one
group of infusions at a time, and starts are tried one by one.
"""

from collections.abc import Iterator
from dataclasses import asdict, replace
from itertools import combinations, product
from random import Random
from typing import Any

from app.lines.model import Infusion, KeepApart, Lumen, Problem

Cost = tuple[int, int]
MOST_NEW = 3


def random_problem(seed: int, *, extras: bool = False) -> Problem:
    """A problem of 1 to 3 lumens and 2 to 6 infusions on coarse steps.

    extras: with carriers and a limit of what is connected to a lumen at once.
    """
    r = Random(seed)
    horizon, step = r.choice([120, 200, 240, 333]), r.choice([20, 30, 40])
    count = r.randint(2, 6)
    infusions = tuple(_infusion(r, at, count, horizon, step) for at in range(count))
    if extras:
        infusions = tuple(_with_carrier(r, one, infusions) for one in infusions)
    roles = ["", "", "", "nutrition", "vasoactive"]
    lumens = tuple(
        Lumen(f"l{at}", r.choice(["peripheral", "peripheral", "central"]), r.choice(roles))
        for at in range(r.randint(1, 3))
    )
    share = r.choice([0.3, 0.6, 0.9])
    pairs = combinations((one.id for one in infusions), 2)
    apart = tuple(KeepApart(pair) for pair in pairs if r.random() < share)
    flush = r.choice([0, 0, 0, 5, 10, 20])
    most = r.choice([None, 1, 2, 3]) if extras else None
    return Problem(horizon, step, flush, lumens, infusions, apart, most)


def _infusion(r: Random, at: int, count: int, horizon: int, step: int) -> Infusion:
    infusion = Infusion(
        f"i{at}", f"infusion {at}", "continuous",
        exclusive=r.random() < 0.2,
        may_share_with_exclusive=frozenset(f"i{n}" for n in range(count) if r.random() < 0.4),
        needs_central=r.random() < 0.1,
        role=r.choice(["", "", "", "nutrition", "vasoactive"]),
    )  # fmt: skip
    if r.random() < 0.45:
        may_pause = r.random() < 0.75
        most = r.choice([None, None, 40, 60, 100, 150]) if may_pause else None
        return replace(infusion, may_pause=may_pause, max_pause_min=most)
    length = r.choice([5, 17, 20, 30, 45, 60, 90])
    first = r.randrange(0, horizon - length + 1)
    latest = r.choice([None, horizon, min(horizon, first + length + r.randrange(0, 120))])
    earliest = r.choice([first, first // step * step])
    kind = r.choice(["intermittent", "blood"])
    return replace(
        infusion, kind=kind, duration_min=length, earliest_start_min=earliest, latest_end_min=latest
    )


def _with_carrier(r: Random, one: Infusion, infusions: tuple[Infusion, ...]) -> Infusion:
    carriers = [other.id for other in infusions if other.continuous and other.id < one.id]
    return replace(one, beside=r.choice(carriers)) if carriers and r.random() < 0.4 else one


def request_of(problem: Problem) -> dict[str, Any]:
    """A problem without extras as POST /api/line-plan is asked it."""
    left_out = {"stays_on", "order_id", "beside"}
    infusions = [
        {name: value for name, value in asdict(one).items() if name not in left_out}
        | {
            "may_share_with_exclusive": sorted(one.may_share_with_exclusive),
            "role": one.role or None,
        }
        for one in problem.infusions
    ]
    timing = ("horizon_min", "step_min", "flush_min")
    return {
        **{name: getattr(problem, name) for name in timing},
        "lumens": [asdict(lumen) | {"role": lumen.role or None} for lumen in problem.lumens],
        "infusions": infusions,
        "keep_apart": [{"pair": list(r.pair), "scope": r.scope} for r in problem.keep_apart],
        "use_catalogue": False,
    }


def best_cost(problem: Problem) -> tuple[int, int, int] | None:
    """Fewest new cannulas, interruptions and minutes paused; None when there is no plan."""
    groups = _Groups(problem)
    for extra in range(MOST_NEW + 1):
        lumens = [*problem.lumens, *(Lumen(f"x{n}", "peripheral") for n in range(extra))]
        costs = list(groups.costs(lumens))
        if costs:
            return (extra, *min(costs))
    return None


def carried_by_those_given(problem: Problem, ids: tuple[str, ...]) -> bool:
    """Whether the lumens given carry these infusions together, whatever the cost."""
    some = tuple(one for one in problem.infusions if one.id in ids)
    return any(_Groups(replace(problem, infusions=some)).costs(list(problem.lumens)))


class _Groups:
    """What each group of infusions costs when it shares one lumen."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.infusions = problem, {one.id: one for one in problem.infusions}
        self.known: dict[tuple[str, ...], Cost | None] = {}
        self.told = {frozenset(rule.pair) for rule in problem.keep_apart}
        self.whole = (1 << problem.horizon_min) - 1

    def costs(self, lumens: list[Lumen]) -> Iterator[Cost]:
        """Of every way to give each infusion a lumen, what it costs where it can be."""
        choices = [
            [lumen.id for lumen in lumens if self.may_have(one, lumen)]
            for one in self.infusions.values()
        ]
        best: Cost | None = None
        for choice in product(*choices):
            cost = self.summed(choice, best)
            if cost is not None:
                best = cost
                yield cost

    def summed(self, choice: tuple[str, ...], bar: Cost | None) -> Cost | None:
        total = (0, 0)
        for lumen in set(choice):
            group = tuple(i for i, at in zip(self.infusions, choice, strict=True) if at == lumen)
            if group not in self.known:
                self.known[group] = self.best_of(group)
            cost = self.known[group]
            if cost is None or (bar is not None and total >= bar):
                return None
            total = (total[0] + cost[0], total[1] + cost[1])
        return total

    @staticmethod
    def may_have(one: Infusion, lumen: Lumen) -> bool:
        site = lumen.site == "central" or not one.needs_central
        return site and lumen.role in ("", one.role)

    def apart(self, one: Infusion, other: Infusion) -> bool:
        if frozenset((one.id, other.id)) in self.told:
            return True
        one_alone = one.exclusive and other.id not in one.may_share_with_exclusive
        other_alone = other.exclusive and one.id not in other.may_share_with_exclusive
        return one_alone or other_alone

    def best_of(self, group: tuple[str, ...]) -> Cost | None:
        infusions = [self.infusions[one] for one in group]
        if any(one.beside in self.infusions and one.beside not in group for one in infusions):
            return None
        on_and_on = [one for one in infusions if one.continuous]
        if any(self.apart(one, other) for one, other in combinations(on_and_on, 2)):
            return None
        timed = [one for one in infusions if not one.continuous]
        every = product(*(list(self.starts(one)) for one in timed))
        costs = (self.cost(on_and_on, dict(zip(timed, starts, strict=True))) for starts in every)
        return min((cost for cost in costs if cost is not None), default=None)

    def starts(self, one: Infusion) -> Iterator[int]:
        horizon = self.problem.horizon_min
        end = min(horizon, horizon if one.latest_end_min is None else one.latest_end_min)
        fitting = [
            start
            for start in range(0, horizon)
            if one.earliest_start_min <= start and start + (one.duration_min or 0) <= end
        ]
        on_step = [start for start in fitting if start % self.problem.step_min == 0]
        yield from on_step or fitting[:1]

    def cost(self, on_and_on: list[Infusion], starts: dict[Infusion, int]) -> Cost | None:
        runs = {one: ((1 << (one.duration_min or 0)) - 1) << at for one, at in starts.items()}
        wide = {one: self.widened(run) for one, run in runs.items()}
        if any(self.apart(a, b) and wide[a] & runs[b] for a, b in combinations(runs, 2)):
            return None
        pauses = {}
        for one in on_and_on:
            stops = [wide[other] for other in runs if self.apart(one, other)]
            pauses[one.id] = _union(stops)
        for one in sorted(on_and_on, key=lambda each: each.id):  # a carrier comes before
            pauses[one.id] |= pauses.get(one.beside or "", 0)
            limit = self.problem.horizon_min if one.max_pause_min is None else one.max_pause_min
            if pauses[one.id] and (not one.may_pause or pauses[one.id].bit_count() > limit):
                return None
        if any(runs[one] & pauses.get(one.beside or "", 0) for one in runs):
            return None
        if self.crowded(len(on_and_on), list(runs.values())):
            return None
        counts = [(pause & ~(pause << 1)).bit_count() for pause in pauses.values()]
        return sum(counts), sum(pause.bit_count() for pause in pauses.values())

    def widened(self, run: int) -> int:
        flush = self.problem.flush_min
        return (
            _union([run << n for n in range(flush + 1)] + [run >> n for n in range(flush + 1)])
            & self.whole
        )

    def crowded(self, always: int, runs: list[int]) -> bool:
        most = self.problem.most_at_once
        if most is None:
            return False
        minutes = range(self.problem.horizon_min)
        return any(always + sum(run >> at & 1 for run in runs) > most for at in minutes)


def _union(parts: list[int]) -> int:
    whole = 0
    for part in parts:
        whole |= part
    return whole
