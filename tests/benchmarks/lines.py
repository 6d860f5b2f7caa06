"""Line plans of three sizes at 5-minute steps, beside the same model as a plain integer program."""

import statistics
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random

from app.lines.check import faults
from app.lines.model import Infusion, KeepApart, Lumen, Problem
from app.lines.solve import solve
from tests.benchmarks.plain_milp import best_cost

SHIFT_MIN, STEP_MIN = 720, 5
LENGTHS_MIN = (15, 30, 30, 60, 60, 120, 180)
PEER_LIMIT_S = 5.0


@dataclass(frozen=True)
class Size:
    """So many lumens and infusions, of which every two clash with a probability."""

    name: str
    lumens: int
    infusions: int
    clash: float
    seeds: int


SIZES = (
    Size("typical", 2, 6, 0.55, 20),
    Size("hard", 3, 15, 0.5, 12),
    Size("absurd", 5, 40, 0.25, 6),
)


@dataclass(frozen=True)
class Figures:
    """Of one size: ms of ours and of the peer, and how many were proven by each."""

    size: Size
    ours_ms: tuple[float, ...]
    peer_ms: tuple[float, ...]
    proven: int
    peer_proven: int

    def of(self, pick: Callable[[tuple[float, ...]], float]) -> tuple[float, float]:
        """One figure of ours and of the peer."""
        return pick(self.ours_ms), pick(self.peer_ms)


def shift(size: Size, seed: int) -> Problem:
    """A made-up shift: fluids that mostly may pause, doses with windows, a central lumen."""
    r = Random(seed)
    lumens = tuple(Lumen(f"p{at}", "peripheral") for at in range(size.lumens - 1))
    names = [f"i{at}" for at in range(size.infusions)]
    infusions = tuple(_infusion(r, name) for name in names)
    pairs = [(one, other) for at, one in enumerate(names) for other in names[at + 1 :]]
    apart = tuple(KeepApart(pair) for pair in pairs if r.random() < size.clash)
    return Problem(SHIFT_MIN, STEP_MIN, 0, (*lumens, Lumen("c1", "central")), infusions, apart)


def _infusion(r: Random, name: str) -> Infusion:
    central = r.random() < 0.1
    if r.random() < 0.35:
        pauses = r.random() < 0.7
        most = r.choice((None, 120, 240)) if pauses else None
        return Infusion(name, name, "continuous", may_pause=pauses, max_pause_min=most,
                        needs_central=central)  # fmt: skip
    length = r.choice(LENGTHS_MIN)
    earliest = r.randrange(0, SHIFT_MIN - length + 1, STEP_MIN)
    latest = min(SHIFT_MIN, earliest + length + r.randrange(0, 300, STEP_MIN))
    return Infusion(name, name, "intermittent", length, earliest, latest, needs_central=central)


def figures(milliseconds: Callable[[Callable[[], object]], float]) -> Iterator[Figures]:
    """Every size. Raises where the two disagree, or a plan does not pass the check."""
    solve(shift(SIZES[0], 0))  # loads the solver
    for size in SIZES:
        ours_ms, peer_ms, proven, peer_proven = [], [], 0, 0
        for seed in range(size.seeds):
            problem = shift(size, seed)
            found, told = [], []
            ours_ms.append(milliseconds(lambda p=problem, f=found: f.append(solve(p))))
            peer_ms.append(
                milliseconds(lambda p=problem, t=told: t.append(best_cost(p, limit_s=PEER_LIMIT_S)))
            )
            plan = found[0].plan
            cost = plan and (plan.extra_cannulas, plan.interruptions, plan.minutes_paused)
            proven += found[0].proven_optimal
            peer_proven += told[0] != "not proven"
            if plan is not None and faults(problem, plan):
                raise AssertionError(f"{size.name} {seed}: {faults(problem, plan)}")
            if found[0].proven_optimal and told[0] not in ("not proven", cost):
                raise AssertionError(f"{size.name} {seed}: {cost} against {told[0]}")
        yield Figures(size, tuple(ours_ms), tuple(peer_ms), proven, peer_proven)


def rows(each: Figures) -> Iterator[tuple[str, float, str, str, float]]:
    """What `make bench` says of one size: median and worst, and what share was proven."""
    size = each.size
    name = f"line plan, {size.name}, {size.lumens} lumens, {size.infusions} infusions"
    for what, pick in (("median", statistics.median), ("worst", max)):
        ours, peer = each.of(pick)
        beside = f"plain integer program ({peer:.0f} ms)"
        yield f"{name}, {what}", ours, "ms", beside, peer / ours
    beside = f"proven by the plain integer program ({each.peer_proven} of {size.seeds})"
    share = each.proven / each.peer_proven if each.peer_proven else float(each.proven)
    yield f"{name}, proven best", float(each.proven), f"of {size.seeds}", beside, share
