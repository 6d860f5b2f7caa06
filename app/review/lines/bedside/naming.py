"""What each infusion is called in a plan: short, and never two alike. Pure."""

from collections import Counter
from collections.abc import Iterable

from app.cautions.phrases import bag_with_additives, number, short
from app.cautions.shared.substances import Infusion, name_of
from app.patient.order import Order


def names_of(infusions: Iterable[Infusion]) -> tuple[str, ...]:
    """A name for each, in order; two of one name are told apart by rate or place."""
    every = tuple(infusions)
    names = [_name(one) for one in every]
    often = Counter(names)
    return tuple(
        _told_apart(name, one, place) if often[name] > 1 else name
        for place, (name, one) in enumerate(zip(names, every, strict=True), 1)
    )


def _name(one: Infusion) -> str:
    if not isinstance(one, Order):
        return name_of(one)
    if one.fluid is None or one.candidates:
        return f"“{short(one.written)}”"
    return bag_with_additives(one)


def _told_apart(name: str, one: Infusion, place: int) -> str:
    rates = f" at {number(one.rate_ml_h)} mL/h" if one.rate_ml_h else ""
    return f"{name}{rates} ({place})"
