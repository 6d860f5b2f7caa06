"""Sodium and water: how fast sodium moves, free water, the injured brain, strong salt."""

from typing import Final

from app.cautions.families.sodium import brain, fall, hypertonic, rate, siadh, tonicity
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *rate.RULES,
    *fall.RULES,
    *brain.RULES,
    *tonicity.RULES,
    *hypertonic.RULES,
    *siadh.RULES,
)
