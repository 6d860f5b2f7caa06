"""Whether two infusions run together in one lumen, as far as it was told."""

from collections.abc import Iterable
from typing import Final, Literal

from app.patient.case import Case
from app.patient.order import CoInfusion, Order

Sharing = Literal["together", "one lumen", "not known", "room", "in turn", "apart"]
CLOSEST_FIRST: Final[tuple[Sharing, ...]] = (
    "together", "one lumen", "not known", "room", "in turn", "apart",
)  # fmt: skip


def sharing(case: Case, one: Order | CoInfusion, other: CoInfusion) -> Sharing:
    """How two infusions of a case stand to each other.

    together: the same lumen is named for both, or the words say so. one lumen: the patient has no
    other. not known: lumens are not told, and there may be fewer than infusions. room: not told,
    but there are as many lumens as infusions. in turn: one after the other with a flush between.
    apart: another line.
    """
    told = {other.arrangement, one.arrangement if isinstance(one, CoInfusion) else ""}
    both_placed = one.lumen is not None and other.lumen is not None
    if "separate" in told or (both_placed and one.lumen != other.lumen):
        return "apart"
    if "in turn" in told:
        return "in turn"
    if both_placed or "together" in told:
        return "together"
    lumens = len(case.patient.access)
    if lumens == 1:
        return "one lumen"
    by_itself = sum(not infusion.carried_by for infusion in case.co_infusions)
    return "room" if lumens >= len(case.orders) + by_itself else "not known"


def closest(
    case: Case, one: Order | CoInfusion, others: Iterable[CoInfusion]
) -> tuple[Sharing, CoInfusion] | None:
    """Of several infusions the one most surely in the same lumen; None when there are none.

    What an order's own bag carries is not beside it, nor is an infusion beside itself.
    """
    own = one.id if isinstance(one, Order) else one.carried_by
    beside = (o for o in others if o is not one and not (own and o.carried_by == own))
    ways = [(sharing(case, one, other), other) for other in beside]
    return min(ways, key=lambda way: CLOSEST_FIRST.index(way[0]), default=None)
