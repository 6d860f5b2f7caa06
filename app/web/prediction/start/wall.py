"""For a wall: one sentence and the two quantities that differ most. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from types import MappingProxyType
from typing import Final

from app.web.prediction.asked import MINUTES_PER_HOUR
from app.web.prediction.panels import QUANTITIES, Quantity, curves_of, read_to, value_at
from app.web.prediction.start.drawn import Tried
from app.web.show import amount, duration, signed

MOST: Final = 2
NO_CHANGE: Final = "no change"
# Too much for a wall, or told by another of them.
NOT_ON_A_WALL: Final = ("osmolality_mosm_kg", "interstitial_volume_ml", "intracellular_volume_ml")


@dataclass(frozen=True, slots=True)
class Wall:
    """sentence: what differs most. keys: of the two pictures, the largest difference first.
    names: the fluid of each line, by its mark; none for one alone.
    """

    sentence: str
    keys: tuple[str, ...]
    names: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Change:
    """One quantity: what each bag does to it until it is in, and how much of a sight that is."""

    quantity: Quantity
    by: tuple[float, ...]
    seen: float


def wall_of(tried: Tried) -> Wall:
    """The two that differ most between the bags, or that one bag moves most."""
    ranked = sorted(_changes(tried), key=lambda one: -one.seen)[:MOST]
    asked = tried.asked
    fluids = [bag.called for bag in asked.bags]
    takes = duration(timedelta(minutes=round(min(asked.minutes or 0.0, _ahead(tried)))))
    told = "; ".join(_told(one, fluids if at == 0 else ()) for at, one in enumerate(ranked))
    alone = len(asked.bags) == 1
    of = f" of {fluids[0]}" if alone else ""
    return Wall(
        sentence=f"{amount(asked.volume_ml, 'mL')}{of} in {takes}: {told}.",
        keys=tuple(one.quantity.key for one in ranked),
        names=MappingProxyType({} if alone else {b.mark: b.fluid.name for b in asked.bags}),
    )


def _ahead(tried: Tried) -> float:
    return tried.asked.horizon_h * MINUTES_PER_HOUR


def _changes(tried: Tried) -> list[_Change]:
    found = []
    hours = min(tried.asked.minutes or 0.0, _ahead(tried)) / MINUTES_PER_HOUR
    for quantity in QUANTITIES:
        begins = tried.begins[quantity.key]
        if begins.why_none or quantity.key in NOT_ON_A_WALL:
            continue
        curves = curves_of(quantity, tried.courses, begins)
        by = tuple(value_at(curve, curve.mid, hours) - curve.mid[0] for curve in curves)
        spread = abs(by[0] - by[-1]) if len(by) > 1 else abs(by[0])
        least = quantity.scale.least(curves[0].mid[0])
        found.append(_Change(read_to(quantity, curves), by, spread / least))
    return found


def _told(one: _Change, fluids: Sequence[str]) -> str:
    """One quantity: "chloride +5 with 0.9% sodium chloride, +1 with lactated Ringer's"."""
    name = one.quantity.name if one.quantity.name == "pH" else one.quantity.name.lower()
    places = one.quantity.scale.places
    said = [signed(by, places) if round(by, places) else NO_CHANGE for by in one.by]
    if len(said) == 1:
        return f"{name} {said[0]} {one.quantity.unit}".strip()
    if fluids:
        return f"{name} " + ", ".join(f"{s} with {f}" for s, f in zip(said, fluids, strict=True))
    return f"{name} {' and '.join(said)}"
