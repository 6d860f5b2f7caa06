"""The JSON of POST /api/line-plan, as the OpenAPI document describes it.

Reading is done by app/review/lines; a contract test holds these models against what it takes and
what it gives.
"""

from typing import Literal

from pydantic import BaseModel, Field

from app.api.predict_shapes import NoteOut
from app.api.shapes import Out
from app.review.lines.asked import MOST_INFUSIONS, MOST_LUMENS

Kind = Literal["continuous", "intermittent", "blood"]
Role = Literal["nutrition", "vasoactive", "monitoring"]
Scope = Literal["lumen", "patient"]


class LumenIn(BaseModel):
    """A lumen or cannula; with a role it takes only infusions of that role."""

    id: str | int
    site: Literal["peripheral", "central"]
    role: Role | None = None


class LineInfusionIn(BaseModel):
    """What must run, on one lumen. Continuous: throughout, but for its pauses; else unbroken for
    its duration within its window.
    """

    id: str | int
    name: str | None = Field(None, description="the id when not given")
    kind: Kind
    duration_min: int | None = Field(None, gt=0, description="needed unless continuous")
    earliest_start_min: int | None = Field(None, ge=0, description="0 when not given")
    latest_end_min: int | None = Field(None, ge=0, description="the horizon when not given")
    may_pause: bool | None = Field(None, description="false when not given: never interrupted")
    max_pause_min: int | None = Field(None, ge=0, description="in all; no limit when not given")
    exclusive: bool | None = Field(None, description="shares with nothing but what is named")
    may_share_with_exclusive: list[str] | None = None
    needs_central: bool | None = None
    role: Role | None = None
    stays_on: str | None = Field(None, description="the lumen it runs on now")
    order_id: str | None = Field(None, description="doses of one order keep one lumen if they can")
    beside: str | None = Field(None, description="the continuous infusion that carries it")


class KeepApartIn(BaseModel):
    """Two that never run on one lumen at one time; scope patient: never both given."""

    pair: list[str] = Field(min_length=2, max_length=2)
    scope: Scope | None = Field(None, description="lumen when not given")
    why: str | None = None


class LinePlanRequest(BaseModel):
    """Lumens, what must run, what must be kept apart; times in whole minutes from now."""

    horizon_min: int | None = Field(None, gt=0, description="720 when not given; at most 7 days")
    step_min: int | None = Field(
        None,
        gt=0,
        description="5 when not given: starts are multiples; as early as may be where none fits",
    )
    flush_min: int | None = Field(
        None, ge=0, description="between two that clash, and at both ends of a pause; 0"
    )
    lumens: list[LumenIn] = Field(min_length=1, max_length=MOST_LUMENS)
    infusions: list[LineInfusionIn] = Field(min_length=1, max_length=MOST_INFUSIONS)
    keep_apart: list[KeepApartIn] | None = None
    use_catalogue: bool | None = Field(None, description="add the pairs the table keeps apart")
    most_at_once: int | None = Field(None, ge=1, description="connected to one lumen at a time")


class PlacementOut(Out):
    """One infusion: its lumen and its runs, each from one minute to another."""

    infusion_id: str
    lumen_id: str
    runs: list[tuple[int, int]]


class StepOut(Out):
    """One thing to do at a lumen."""

    at_min: int
    lumen_id: str
    do: str
    what: Literal["place", "end", "pause", "flush", "go on", "move", "start", "resume"]


class WhyNotOut(Out):
    """One set of infusions that the lumens given cannot carry together."""

    clash: list[str]
    text: str
    minimal_proven: bool = Field(description="without any one of them the others can run")


class WayOutOut(Out):
    """One change, and the plan once it is made."""

    change: str
    effect: str
    kind: Literal["move", "replace", "cannula", "pause", "central line", "leave out"]
    infusion_id: str | None


class KeptApartOut(Out):
    """A pair that the plan keeps apart, and why."""

    pair: list[str]
    scope: Scope
    why: str


class LinePlanReply(Out):
    """The best plan. Costs are null and the plan is empty when no number of cannulas helps."""

    feasible: bool = Field(description="with the lumens given")
    extra_cannulas: int | None
    interruptions: int | None
    minutes_paused: int | None
    proven_optimal: bool = Field(description="false: the best found within the time allowed")
    plan: list[PlacementOut]
    steps: list[StepOut]
    why_not: WhyNotOut | None
    ways_out: list[WayOutOut]
    flush_ml: float = Field(description="what all flushes bring")
    keep_apart: list[KeptApartOut]
    notes: list[NoteOut]
