"""What the plan keeps apart, two by two, each with its sign, its reason and its page."""

from dataclasses import dataclass
from typing import Final

from app.cautions.phrases import opening
from app.review.lines.bedside.problem import Bedside
from app.review.pairs.apart import NOBODY_TOLD, NOT_CONFIRMED, Apart
from app.web.pairs.asked import address

# How a pair is drawn of which nobody has told us.
GAP: Final = "gap"


@dataclass(frozen=True, slots=True)
class ApartView:
    """Two kept apart. sign: how the pair is drawn, a gap where nobody has told us."""

    one: str
    other: str
    sign: str
    why: str
    href: str


def apart_of(bedside: Bedside) -> tuple[ApartView, ...]:
    """Every pair of what is planned; what must not both be given first, no data last."""
    names = {item.source: item.name.partition(", ")[0] for item in reversed(bedside.items)}
    pairs = (p for p in bedside.apart if p.a_id in names and p.b_id in names)
    made = [(_rank(pair), _view(pair, names)) for pair in pairs]
    return tuple(view for _, view in sorted(made, key=lambda each: each[0]))


def _rank(pair: Apart) -> int:
    return 0 if pair.scope == "patient" else 2 if pair.why.startswith(NOBODY_TOLD) else 1


def _view(pair: Apart, names: dict[str, str]) -> ApartView:
    one, other = names[pair.a_id], names[pair.b_id]
    why = f"{opening(pair.why)}."
    return ApartView(opening(one), other, _sign(pair), why, address((one, other)))


def _sign(pair: Apart) -> str:
    if pair.why.startswith(NOBODY_TOLD):
        return GAP
    return "if" if NOT_CONFIRMED in pair.why else "apart"
