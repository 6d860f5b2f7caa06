"""Strengths that no bag of the catalogue has: the next weaker fluid, and what it lacks."""

from collections.abc import Callable
from typing import Final

from app.catalogue.fluid import Fluid
from app.intake.orders.quantities import Quantity
from app.intake.recipe import NORMAL_SALINE, SALINE
from app.intake.wording.amounts import BAG_PERCENT_UP_TO
from app.intake.wording.parts import DoseWords

# Bags of plain glucose, weakest first; stronger than 70% is none that is made.
GLUCOSE_BAGS_PERCENT: Final = (5.0, 10.0, 20.0, 50.0)
GLUCOSE_PERCENT_UP_TO: Final = 70.0
GLUCOSE_WITH_SALT_UP_TO: Final = 20.0
# Strong salines that are made or mixed somewhere (common practice, no source).
SALINE_MADE_PERCENT: Final = frozenset({1.8, 2.0, 2.5, 2.7, 7.2, 7.5})
G_PER_L_PER_PERCENT: Final = 10.0
Parts = frozenset[tuple[str, float | None]]
Doses = tuple[DoseWords, ...]
FindOne = Callable[[Parts, float | None], Fluid | None]


def made_up(parts: Parts, find: FindOne) -> tuple[Fluid, Doses] | None:
    """Glucose of a strength that no bag has, or with a share of sodium chloride that none has, or
    a strong saline: the next weaker one with glucose or salt added. find: the fluid of parts.
    """
    strengths = {one_word(part): (part, strength) for part, strength in parts}
    if strengths.keys() == {SALINE}:
        return _saline(strengths[SALINE][1], find)
    if not strengths.keys() <= {"glucose", SALINE} or "glucose" not in strengths:
        return None
    fluid, more = _glucose(*strengths["glucose"], find)
    percent = strengths[SALINE][1] if SALINE in strengths else 0.0
    if fluid is None and percent:
        return _weak_in_saline(strengths["glucose"][1], percent, find)
    if fluid is None or percent is None or percent > BAG_PERCENT_UP_TO:
        return None
    if percent and (strengths["glucose"][1] or 0) > GLUCOSE_WITH_SALT_UP_TO:
        return None
    if percent:
        more += (DoseWords("sodium_chloride", None, percent, f"{percent:g}% sodium chloride"),)
    return (fluid, more) if more else None


def one_word(part: str) -> str:
    """Dextrose and glucose are one word."""
    return "glucose" if part == "dextrose" else part


def _saline(percent: float | None, find: FindOne) -> tuple[Fluid, Doses] | None:
    fluid = find(frozenset({(SALINE, NORMAL_SALINE)}), None)
    if fluid is None or percent not in SALINE_MADE_PERCENT:
        return None
    lacking = Quantity((percent - NORMAL_SALINE) * G_PER_L_PER_PERCENT, "g", per_litre=True)
    return fluid, (DoseWords("sodium_chloride", lacking, None, f"salt to make {percent:g}%"),)


def _weak_in_saline(
    glucose: float | None, saline: float, find: FindOne
) -> tuple[Fluid, Doses] | None:
    """A little glucose in a saline: "2.5% dextrose in 0.45% saline"."""
    fluid = find(frozenset({(SALINE, saline)}), None)
    if fluid is None or glucose is None or glucose > GLUCOSE_BAGS_PERCENT[0]:
        return None
    added = Quantity(glucose * G_PER_L_PER_PERCENT, "g", per_litre=True)
    return fluid, (DoseWords("glucose", added, None, f"{glucose:g}% glucose"),)


def _glucose(word: str, percent: float | None, find: FindOne) -> tuple[Fluid | None, Doses]:
    """The glucose of this strength, or the next weaker one and the glucose it lacks."""
    own = find(frozenset({(word, percent)}), None)
    if own is not None or percent is None or percent > GLUCOSE_PERCENT_UP_TO:
        return own, ()
    bags = ((s, find(frozenset({(word, s)}), None)) for s in GLUCOSE_BAGS_PERCENT)
    weaker = [(s, fluid) for s, fluid in bags if fluid is not None and s < percent]
    if not weaker:
        return None, ()
    strength, fluid = weaker[-1]
    lacking = Quantity((percent - strength) * G_PER_L_PER_PERCENT, "g", per_litre=True)
    return fluid, (DoseWords("glucose", lacking, None, f"glucose to make {percent:g}%"),)
