"""A line plan in plain data: what must run, on which lumens, what may not meet, and the plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

Site = Literal["peripheral", "central"]
Kind = Literal["continuous", "intermittent", "blood"]
Role = Literal["", "nutrition", "vasoactive", "monitoring"]
Scope = Literal["lumen", "patient"]

MOST_NEW: Final = 3
NEW_NAMES: Final[dict[Site, str]] = {"peripheral": "new", "central": "new central "}
CONTINUOUS: Final = "continuous"


@dataclass(frozen=True, slots=True)
class Lumen:
    """One lumen or cannula. A role keeps it for infusions of that role alone."""

    id: str
    site: Site
    role: Role = ""


@dataclass(frozen=True, slots=True)
class Infusion:
    """What must run; it stays on one lumen for the whole plan.

    Continuous: from 0 to the horizon, but for its pauses. Timed (intermittent, blood): unbroken
    for duration_min between earliest_start_min and latest_end_min (None: the horizon).
    may_pause False is the mark "do not interrupt"; max_pause_min None is no limit.
    exclusive: shares a lumen at one time with nothing but may_share_with_exclusive (ids).
    needs_central: by its osmolarity, or harmful beside the vein. beside: the id of a continuous
    infusion that carries it: same lumen, and running whenever this one runs. order_id: doses of
    one order, kept on one lumen if possible. stays_on: the lumen it runs on now.
    """

    id: str
    name: str
    kind: Kind
    duration_min: int | None = None
    earliest_start_min: int = 0
    latest_end_min: int | None = None
    may_pause: bool = False
    max_pause_min: int | None = None
    exclusive: bool = False
    may_share_with_exclusive: frozenset[str] = frozenset()
    needs_central: bool = False
    role: Role = ""
    stays_on: str | None = None
    order_id: str | None = None
    beside: str | None = None

    @property
    def continuous(self) -> bool:
        """True for what runs all the time."""
        return self.kind == CONTINUOUS


@dataclass(frozen=True, slots=True)
class KeepApart:
    """Two infusions that never run on one lumen at the same time; scope patient: never both given.

    why: the reason, for people.
    """

    pair: tuple[str, str]
    scope: Scope = "lumen"
    why: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything a plan answers to. Times in whole minutes from now; timed infusions start at
    multiples of step_min; flush_min lies between two that clash on one lumen.

    most_at_once: how many infusions may be connected to one lumen at one time (a paused one stays
    connected); None: any number.
    """

    horizon_min: int
    step_min: int
    flush_min: int
    lumens: tuple[Lumen, ...]
    infusions: tuple[Infusion, ...]
    keep_apart: tuple[KeepApart, ...] = ()
    most_at_once: int | None = None

    def by_id(self) -> Mapping[str, Infusion]:
        """Every infusion by its id."""
        return {infusion.id: infusion for infusion in self.infusions}


@dataclass(frozen=True, slots=True)
class Run:
    """From one minute to another, without a break."""

    start_min: int
    end_min: int


@dataclass(frozen=True, slots=True)
class Placement:
    """Where and when one infusion runs."""

    infusion_id: str
    lumen_id: str
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Where and when everything runs, with what it costs.

    extra_cannulas: new peripheral cannulas (0 to 3). interruptions: separate pauses, summed over
    infusions. minutes_paused: their length, min.
    """

    placements: tuple[Placement, ...]
    extra_cannulas: int
    interruptions: int
    minutes_paused: int


@dataclass(frozen=True, slots=True)
class Solution:
    """What was found.

    plan: the best, or None when no number of cannulas helps. feasible: with the lumens given.
    proven_optimal: nothing better exists, or where plan is None that there is none. barred: two
    that are not both given to this patient. clash: infusions that the lumens given cannot carry
    together; clash_proven: that without any one of them they can. beyond: what not even one new
    cannula fewer than in the plan carries together, or where there is none not even three: whatever
    saves one must change one of these. Empty where that is not known.
    """

    plan: Plan | None
    feasible: bool
    proven_optimal: bool
    barred: tuple[str, str] | None = None
    clash: tuple[str, ...] = ()
    clash_proven: bool = False
    beyond: tuple[str, ...] = ()


def new_lumens(problem: Problem, number: int, site: Site = "peripheral") -> tuple[Lumen, ...]:
    """That many new lumens, named new1 and on ("new central 1"), past names already given."""
    taken, new = {lumen.id for lumen in problem.lumens}, NEW_NAMES[site]
    free = (name for at in range(1, len(taken) + number + 1) if (name := f"{new}{at}") not in taken)
    return tuple(Lumen(next(free), site) for _ in range(number))
