"""Where each fluid is to be had, as somebody last told it. Not told is a state of its own."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType
from typing import Any, Final, Literal, get_args

State = Literal["on the ward", "in pharmacy", "short", "out", "withdrawn", "not told"]
STATES: Final[tuple[State, ...]] = get_args(State)
NEVER_OFFERED: Final = ("out", "withdrawn")
# Among ways out that are otherwise equal the lower goes first (common practice, no source).
PREFERENCE: Final[Mapping[State, int]] = MappingProxyType(
    {"on the ward": 0, "in pharmacy": 1, "not told": 1, "short": 2, "out": 3, "withdrawn": 3}
)


@dataclass(frozen=True, slots=True)
class StockState:
    """Where one fluid is. since: when it was told; note: why; by: who told it, as they wrote it."""

    state: State = "not told"
    since: datetime | None = None
    note: str = ""
    by: str = ""

    @property
    def may_be_offered(self) -> bool:
        """False for what cannot be had: out, or withdrawn from use."""
        return self.state not in NEVER_OFFERED

    @property
    def is_known(self) -> bool:
        """True when somebody told where it is."""
        return self.state != "not told"

    def as_data(self) -> dict[str, Any]:
        """The state as the outside interface tells it; since is null when it was not told."""
        since = None if self.since is None else self.since.isoformat()
        return {"state": self.state, "since": since, "note": self.note, "by": self.by}


NOT_TOLD: Final = StockState()


@dataclass(frozen=True, slots=True)
class Stock:
    """What was last told of each fluid, by id. last: number of the last thing told, 0 = nothing."""

    states: Mapping[str, StockState] = field(default_factory=lambda: MappingProxyType({}))
    last: int = 0

    def of(self, fluid_id: str) -> StockState:
        """Where a fluid is; "not told" when nobody said."""
        return self.states.get(fluid_id, NOT_TOLD)

    def may_offer(self, fluid_id: str) -> bool:
        """Whether a fluid may be named as a way out: not told may, out and withdrawn never."""
        return self.of(fluid_id).may_be_offered

    def rank(self, fluid_id: str) -> int:
        """Which of two otherwise equal fluids goes first: the lower; what is short goes last."""
        return PREFERENCE[self.of(fluid_id).state]


NOTHING_TOLD: Final = Stock()
