"""Magnesium: kept by failing kidneys, and with weak or paralysed muscles."""

from typing import Final

from app.cautions.families.magnesium import excess, muscle
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*excess.RULES, *muscle.RULES)
