"""Two solutions into one: volumes and amounts add, concentrations do not."""

from collections.abc import Iterable
from dataclasses import fields

from app.chemistry.composition import Composition


def scaled(composition: Composition, factor: float) -> Composition:
    """Every amount times a factor; an amount that is not on the label stays unknown."""
    amounts = {
        name: None if value is None else value * factor
        for name, value in composition.amounts().items()
    }
    return Composition(glucose_monohydrate=composition.glucose_monohydrate, **amounts)  # type: ignore[arg-type]


def added(first: Composition, second: Composition) -> Composition:
    """Sum of two sets of amounts (same volume basis); glucose is brought to one basis."""
    if second.glucose_g_l and first.glucose_monohydrate != second.glucose_monohydrate:
        first, second = _anhydrous(first), _anhydrous(second)
    amounts: dict[str, float | None] = {}
    others = second.amounts()
    for name, value in first.amounts().items():
        other = others[name]
        amounts[name] = None if value is None or other is None else value + other
    return Composition(glucose_monohydrate=first.glucose_monohydrate, **amounts)  # type: ignore[arg-type]


def mixed(first: Composition, first_l: float, second: Composition, second_l: float) -> Composition:
    """Per-litre composition of first_l litres of one with second_l litres of another.

    Assumes additive volumes; bags hold some overfill (about 3 to 10%, from memory), so the answer
    is an estimate. Raises ValueError when there is no volume at all.
    """
    _must_be_some(first_l + second_l)
    total = added(scaled(first, first_l), scaled(second, second_l))
    return scaled(total, 1 / (first_l + second_l))


def mixed_osmolarity_mosm_l(parts: Iterable[tuple[float, float]]) -> float:
    """Osmolarity of a mixture, mOsm/L, from (litres, mOsm/L) of each part.

    Sum of volume x osmolarity over sum of volumes: volumes taken as additive, overfill left out,
    so an estimate. Raises ValueError when there is no volume at all.
    """
    listed = tuple(parts)
    total_l = sum(litres for litres, _ in listed)
    _must_be_some(total_l)
    return sum(litres * mosm_l for litres, mosm_l in listed) / total_l


def _must_be_some(total_l: float) -> None:
    if total_l <= 0:
        raise ValueError(f"total volume is {total_l} L; it must be above 0")


def _anhydrous(composition: Composition) -> Composition:
    values = {f.name: getattr(composition, f.name) for f in fields(composition)}
    values["glucose_g_l"] = composition.glucose_anhydrous_g_l
    values["glucose_monohydrate"] = False
    return Composition(**values)
